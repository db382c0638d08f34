import type { CallResponse } from '../types.ts';

export type { Answers, Entry, UnitId, UnitSystem } from '../../core/workspace/contract.ts';
export type Attached = CallResponse<'intake.attach'>['attached'];
export type Rows = CallResponse<'intake.begin'>['rows'];
export type Checked = CallResponse<'intake.check'>;
export type Problem = Checked['problems'][number];
export type Habits = CallResponse<'intake.finish'>['habits'];
export type Shelf = CallResponse<'shelf.list'>;
export type Preferences = Shelf['preferences'];
