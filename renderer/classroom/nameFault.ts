import { FAULTS } from '../../core/workspace/contract.ts';
import type { FaultId } from './classroomTypes.ts';

/** A fault as it is called on screen. */
export function nameFault(fault: FaultId): string {
  return FAULTS.find(({ id }) => id === fault)!.name;
}

/** Faults in one line, `nothing wrong` for none. */
export function listFaults(faults: readonly FaultId[]): string {
  if (faults.length === 0) return 'nothing wrong';
  return faults.map((fault, i) => (i === 0 ? nameFault(fault) : lowerFirst(nameFault(fault)))).join(', ');
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
