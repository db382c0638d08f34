import type { FaultId } from './faults.ts';

/** What happens at one visit; what is not said is good practice. */
export interface VisitStory {
  readonly date: string;
  /** One list of faults for each strike; an empty list is a good strike. Null: no such recording. */
  readonly hammer?: readonly (readonly FaultId[])[] | null;
  readonly hand?: readonly (readonly FaultId[])[] | null;
  /** The faults are so bad that no result may be given. */
  readonly hopeless?: boolean;
  readonly form?: 'pcm16' | 'pcm24' | 'float32' | 'csv';
  readonly sampleRateHz?: number;
  /** Sensor axis against the line, in degrees. @default a few degrees, drawn */
  readonly sensorTurnDeg?: number;
  /** Factors on modulus and soil since the pole's first state. */
  readonly stemFactor?: number;
  readonly rootFactor?: number;
  readonly knows?: readonly ('density' | 'profile' | 'top' | 'shell' | 'cable-stiffness')[];
  readonly forgets?: readonly ('tag' | 'soil' | 'class')[];
  readonly requirementNm?: number;
  /** The line's loads are listed one by one. */
  readonly listsLoads?: boolean;
}

/** Loss of section around the ground line. */
export interface DecayStory {
  readonly kind: 'outside' | 'inside';
  /** Share of the diameter lost all round (outside), or diameter of the hollow over the diameter (inside), at worst. */
  readonly share: number;
  readonly fromM: number;
  readonly toM: number;
}

/** One invented pole. */
export interface PoleStory {
  readonly id: string;
  readonly species: 'southern-pine' | 'douglas-fir' | 'western-redcedar';
  readonly treatment: string;
  readonly classCode: '2' | '3' | '4' | '5' | '6';
  readonly lengthM: 9.14 | 10.67 | 12.19 | 13.72;
  readonly setYear: number;
  readonly soil: 'loose-sand' | 'medium-sand' | 'dense-sand' | 'soft-clay' | 'medium-clay' | 'stiff-clay';
  /** Backfill against the natural soil: 1 as expected, small where it is loose. */
  readonly backfill: number;
  /** Set deeper (+) or shallower (-) than the rule of thumb, in m. */
  readonly depthOffM?: number;
  readonly cables?: readonly ('aerial' | 'aerial-pair' | 'service' | 'stay')[];
  readonly attachments?: readonly ('transformer' | 'crossarm' | 'lamp')[];
  readonly decay?: DecayStory;
  readonly visits: readonly VisitStory[];
}

const GOOD = [[], []] as const;

/** The poles of Kelvermoor, a district that does not exist. Every fault of the strike checks happens to somebody. */
// biome-ignore format: one pole a line reads as a table.
export const STORIES: readonly PoleStory[] = [
  // Plain poles and good blows: from stiff ground to loose.
  { id: 'KV-0101', species: 'southern-pine', treatment: 'creosote', classCode: '4', lengthM: 9.14, setYear: 1998, soil: 'medium-sand', backfill: 1, visits: [{ date: '2026-05-03', knows: ['density', 'profile', 'top'] }] },
  { id: 'KV-0102', species: 'southern-pine', treatment: 'CCA', classCode: '5', lengthM: 10.67, setYear: 2004, soil: 'dense-sand', backfill: 1.1, visits: [{ date: '2026-05-03', form: 'pcm24' }] },
  { id: 'KV-0103', species: 'southern-pine', treatment: 'penta', classCode: '3', lengthM: 12.19, setYear: 1989, soil: 'stiff-clay', backfill: 1.7, attachments: ['crossarm'], visits: [{ date: '2026-05-03', requirementNm: 62000 }] },
  { id: 'KV-0104', species: 'southern-pine', treatment: 'creosote', classCode: '4', lengthM: 10.67, setYear: 1975, soil: 'loose-sand', backfill: 0.9, visits: [{ date: '2026-05-04', knows: ['top'] }] },
  { id: 'KV-0105', species: 'southern-pine', treatment: 'creosote', classCode: '5', lengthM: 9.14, setYear: 1969, soil: 'dense-sand', backfill: 0.08, depthOffM: -0.2, visits: [{ date: '2026-05-04', form: 'csv', sampleRateHz: 1000 }] },
  { id: 'KV-0106', species: 'southern-pine', treatment: 'CCA', classCode: '2', lengthM: 13.72, setYear: 2011, soil: 'medium-clay', backfill: 1, cables: ['aerial'], attachments: ['transformer', 'crossarm'], visits: [{ date: '2026-05-04', knows: ['top', 'cable-stiffness'], sampleRateHz: 4000 }] },
  { id: 'KV-0107', species: 'southern-pine', treatment: 'creosote', classCode: '4', lengthM: 9.14, setYear: 1992, soil: 'medium-clay', backfill: 0.9, cables: ['aerial'], visits: [{ date: '2026-05-05', form: 'float32' }] },
  { id: 'KV-0108', species: 'southern-pine', treatment: 'penta', classCode: '6', lengthM: 9.14, setYear: 1983, soil: 'soft-clay', backfill: 1, cables: ['aerial', 'service'], visits: [{ date: '2026-05-05', hand: [[], [], []] }] },
  { id: 'KV-0201', species: 'douglas-fir', treatment: 'penta', classCode: '3', lengthM: 12.19, setYear: 1996, soil: 'medium-sand', backfill: 1.1, visits: [{ date: '2026-05-11', knows: ['density', 'top'] }] },
  { id: 'KV-0202', species: 'douglas-fir', treatment: 'penta', classCode: '4', lengthM: 12.19, setYear: 2001, soil: 'medium-sand', backfill: 0.8, attachments: ['lamp'], visits: [{ date: '2026-05-11', form: 'pcm24', sampleRateHz: 4000 }] },
  { id: 'KV-0203', species: 'douglas-fir', treatment: 'creosote', classCode: '2', lengthM: 13.72, setYear: 1987, soil: 'stiff-clay', backfill: 1, cables: ['aerial-pair'], attachments: ['crossarm'], visits: [{ date: '2026-05-11', requirementNm: 98000, knows: ['cable-stiffness'] }] },
  { id: 'KV-0204', species: 'douglas-fir', treatment: 'penta', classCode: '4', lengthM: 10.67, setYear: 1994, soil: 'dense-sand', backfill: 1, visits: [{ date: '2026-05-12', form: 'csv', sampleRateHz: 1000, knows: ['profile'] }] },
  { id: 'KV-0205', species: 'douglas-fir', treatment: 'penta', classCode: '5', lengthM: 10.67, setYear: 1979, soil: 'soft-clay', backfill: 0.5, depthOffM: -0.15, visits: [{ date: '2026-05-12' }] },
  { id: 'KV-0206', species: 'douglas-fir', treatment: 'CCA', classCode: '3', lengthM: 10.67, setYear: 2008, soil: 'medium-clay', backfill: 1, cables: ['aerial', 'stay'], visits: [{ date: '2026-05-12', knows: ['cable-stiffness'] }] },
  { id: 'KV-0301', species: 'western-redcedar', treatment: 'penta', classCode: '3', lengthM: 10.67, setYear: 1986, soil: 'medium-sand', backfill: 1, visits: [{ date: '2026-05-18', knows: ['density', 'top', 'profile'] }] },
  { id: 'KV-0302', species: 'western-redcedar', treatment: 'penta', classCode: '4', lengthM: 12.19, setYear: 1991, soil: 'medium-clay', backfill: 1, visits: [{ date: '2026-05-18', sampleRateHz: 4000, forgets: ['soil'] }] },
  { id: 'KV-0303', species: 'western-redcedar', treatment: 'creosote', classCode: '2', lengthM: 12.19, setYear: 1978, soil: 'loose-sand', backfill: 1, attachments: ['transformer'], visits: [{ date: '2026-05-18', listsLoads: true }] },

  // Mild faults beside good blows.
  { id: 'KV-0109', species: 'southern-pine', treatment: 'creosote', classCode: '4', lengthM: 10.67, setYear: 1990, soil: 'medium-sand', backfill: 1, visits: [{ date: '2026-06-01', hammer: [['clipping'], [], []], hand: GOOD }] },
  { id: 'KV-0110', species: 'southern-pine', treatment: 'CCA', classCode: '5', lengthM: 9.14, setYear: 2002, soil: 'medium-clay', backfill: 0.9, visits: [{ date: '2026-06-01', hammer: [[], ['double-blow']], hand: [[], ['double-blow'], []] }] },
  { id: 'KV-0111', species: 'southern-pine', treatment: 'penta', classCode: '4', lengthM: 9.14, setYear: 1985, soil: 'dense-sand', backfill: 0.9, visits: [{ date: '2026-06-01', hammer: [['low-band'], ['low-band']], hand: GOOD }] },
  { id: 'KV-0112', species: 'southern-pine', treatment: 'creosote', classCode: '3', lengthM: 12.19, setYear: 1993, soil: 'medium-sand', backfill: 1, visits: [{ date: '2026-06-02', hammer: [['mains-hum'], ['mains-hum']], hand: [['mains-hum'], ['mains-hum']], sensorTurnDeg: 9 }] },
  { id: 'KV-0207', species: 'douglas-fir', treatment: 'penta', classCode: '4', lengthM: 10.67, setYear: 1999, soil: 'medium-sand', backfill: 1, visits: [{ date: '2026-06-02', hammer: [['rattle'], ['rattle'], ['rattle']], hand: GOOD }] },
  { id: 'KV-0208', species: 'douglas-fir', treatment: 'CCA', classCode: '5', lengthM: 9.14, setYear: 2006, soil: 'stiff-clay', backfill: 0.9, visits: [{ date: '2026-06-02', hammer: [['offset'], ['offset']], hand: [['offset'], ['offset']] }] },
  { id: 'KV-0209', species: 'douglas-fir', treatment: 'penta', classCode: '3', lengthM: 13.72, setYear: 1997, soil: 'medium-clay', backfill: 1.1, visits: [{ date: '2026-06-03', hammer: [['weak-plane'], [], []], hand: [['weak-plane'], []], sensorTurnDeg: -8 }] },
  { id: 'KV-0304', species: 'western-redcedar', treatment: 'penta', classCode: '4', lengthM: 10.67, setYear: 1995, soil: 'medium-sand', backfill: 1, visits: [{ date: '2026-06-03', hammer: [[], ['repeatability']], hand: [[], ['repeatability'], []] }] },
  { id: 'KV-0305', species: 'western-redcedar', treatment: 'penta', classCode: '5', lengthM: 9.14, setYear: 2000, soil: 'medium-clay', backfill: 1, visits: [{ date: '2026-06-03', hammer: [['corner'], ['corner']], hand: [['corner'], ['corner']] }] },
  { id: 'KV-0306', species: 'western-redcedar', treatment: 'creosote', classCode: '3', lengthM: 9.14, setYear: 1982, soil: 'dense-sand', backfill: 0.8, visits: [{ date: '2026-06-04', hammer: [['noise'], []], hand: [[], ['cut-short']] }] },
  // Nobody struck by hand, and the hammer did not reach mode 1.
  { id: 'KV-0113', species: 'southern-pine', treatment: 'creosote', classCode: '4', lengthM: 10.67, setYear: 1988, soil: 'medium-sand', backfill: 1, visits: [{ date: '2026-06-04', hammer: [['low-band'], ['low-band']], hand: null }] },

  // Nothing but faults: no result may come of these.
  { id: 'KV-0401', species: 'southern-pine', treatment: 'creosote', classCode: '4', lengthM: 9.14, setYear: 1991, soil: 'medium-sand', backfill: 1, visits: [{ date: '2026-06-08', hopeless: true, hammer: [['clipping'], ['clipping']], hand: [['clipping'], ['clipping']] }] },
  { id: 'KV-0402', species: 'douglas-fir', treatment: 'penta', classCode: '3', lengthM: 10.67, setYear: 1984, soil: 'medium-clay', backfill: 0.8, visits: [{ date: '2026-06-08', hopeless: true, hammer: [['cut-short'], ['cut-short'], ['cut-short']], hand: [['cut-short', 'double-blow'], ['cut-short', 'double-blow']] }] },
  { id: 'KV-0403', species: 'western-redcedar', treatment: 'penta', classCode: '4', lengthM: 10.67, setYear: 1990, soil: 'loose-sand', backfill: 0.8, visits: [{ date: '2026-06-08', hopeless: true, hammer: [['noise'], ['noise']], hand: [['noise'], ['noise']] }] },
  { id: 'KV-0404', species: 'southern-pine', treatment: 'CCA', classCode: '5', lengthM: 9.14, setYear: 2003, soil: 'medium-sand', backfill: 1, visits: [{ date: '2026-06-09', hopeless: true, hammer: [['double-blow', 'clipping'], ['double-blow', 'clipping']], hand: [['cut-short', 'noise'], ['cut-short', 'noise']] }] },

  // Loss of section at the ground line, which frequencies cannot tell from a soft root.
  { id: 'KV-0501', species: 'southern-pine', treatment: 'creosote', classCode: '4', lengthM: 9.14, setYear: 1962, soil: 'medium-sand', backfill: 1, decay: { kind: 'outside', share: 0.3, fromM: -0.35, toM: 0.1 }, visits: [{ date: '2026-06-10' }] },
  { id: 'KV-0502', species: 'douglas-fir', treatment: 'penta', classCode: '3', lengthM: 12.19, setYear: 1966, soil: 'medium-clay', backfill: 1, decay: { kind: 'inside', share: 0.8, fromM: -0.3, toM: 0.2 }, visits: [{ date: '2026-06-10', knows: ['shell'] }] },
  { id: 'KV-0503', species: 'western-redcedar', treatment: 'none', classCode: '4', lengthM: 10.67, setYear: 1958, soil: 'medium-sand', backfill: 0.9, decay: { kind: 'outside', share: 0.25, fromM: -0.25, toM: 0.05 }, visits: [{ date: '2026-06-10' }] },

  // Tested twice, years apart.
  { id: 'KV-0601', species: 'southern-pine', treatment: 'creosote', classCode: '4', lengthM: 10.67, setYear: 1981, soil: 'medium-sand', backfill: 1.1, visits: [{ date: '2014-09-16' }, { date: '2026-06-11', stemFactor: 0.93, rootFactor: 0.7 }] },
  { id: 'KV-0602', species: 'douglas-fir', treatment: 'penta', classCode: '4', lengthM: 9.14, setYear: 1993, soil: 'stiff-clay', backfill: 1, visits: [{ date: '2018-10-02', form: 'pcm24' }, { date: '2026-06-11', stemFactor: 0.96, rootFactor: 0.45 }] },
  { id: 'KV-0603', species: 'western-redcedar', treatment: 'penta', classCode: '3', lengthM: 10.67, setYear: 1977, soil: 'medium-sand', backfill: 0.7, visits: [{ date: '2016-04-27', forgets: ['tag'] }, { date: '2026-06-12', stemFactor: 0.97, rootFactor: 1.5 }] },
];
