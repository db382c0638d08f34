import type { NumberLimits } from '../parts/index.ts';
import type { Thought } from '../state/index.ts';
import {
  CABLE_FACTOR_LIMITS,
  FIXITY_LIMITS,
  MASS_HEIGHT_LIMITS,
  MASS_LIMITS,
  MODULUS_LIMITS,
  SETTING_DEPTH_LIMITS,
} from './numberLimits.ts';

type Place = NonNullable<Thought['place']>;

/** One number of the pole in thought, typed: its words on screen, and where in the thought it stands. */
type ThoughtField = {
  words: string;
  unit: string;
  label: string;
  limits: NumberLimits;
  placeholder: string;
  read: (thought: Thought, place: Place) => number | null;
  write: (value: number, place: Place) => Partial<Thought>;
};

const PA_PER_GPA = 1e9;

export const THOUGHT_FIELDS: readonly ThoughtField[] = [
  {
    words: 'E',
    unit: 'GPa',
    label: 'E in thought, GPa',
    limits: MODULUS_LIMITS,
    placeholder: '',
    read: (_, place) => place.modulusPa / PA_PER_GPA,
    write: (gpa, place) => ({ place: { ...place, modulusPa: gpa * PA_PER_GPA } }),
  },
  {
    words: 'fixity',
    unit: '',
    label: 'Fixity in thought',
    limits: FIXITY_LIMITS,
    placeholder: '',
    read: (_, place) => place.fixity,
    write: (fixity, place) => ({ place: { ...place, fixity } }),
  },
  {
    words: 'cables ×',
    unit: '',
    label: 'Factor on the stiffness of the cables',
    limits: CABLE_FACTOR_LIMITS,
    placeholder: '1',
    read: (thought) => thought.cableFactor,
    write: (cableFactor) => ({ cableFactor }),
  },
  {
    words: 'set',
    unit: 'm deep',
    label: 'Setting depth in thought, m',
    limits: SETTING_DEPTH_LIMITS,
    placeholder: 'as is',
    read: (thought) => thought.settingDepthM,
    write: (settingDepthM) => ({ settingDepthM }),
  },
  {
    words: 'add',
    unit: 'kg',
    label: 'Added mass, kg',
    limits: MASS_LIMITS,
    placeholder: '0',
    read: (thought) => thought.massKg,
    write: (massKg) => ({ massKg }),
  },
  {
    words: 'at',
    unit: 'm',
    label: 'Height of the added mass, m',
    limits: MASS_HEIGHT_LIMITS,
    placeholder: '',
    read: (thought) => thought.massHeightM,
    write: (massHeightM) => ({ massHeightM }),
  },
];
