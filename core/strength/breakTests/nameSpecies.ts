import type { PoleRecord } from '../../recording/index.ts';

type Species = PoleRecord['species'];

/** Names in use, letters only. */
const NAMES: Readonly<Record<Exclude<Species, 'other'>, readonly string[]>> = {
  'southern-pine': [
    'southernpine',
    'southernyellowpine',
    'syp',
    'sp',
    'loblollypine',
    'longleafpine',
    'shortleafpine',
    'slashpine',
    'pinustaeda',
    'pinuspalustris',
    'pinusechinata',
    'pinuselliottii',
  ],
  'douglas-fir': ['douglasfir', 'df', 'coastdouglasfir', 'interiordouglasfir', 'pseudotsugamenziesii'],
  'western-redcedar': ['westernredcedar', 'wrc', 'wc', 'redcedar', 'thujaplicata'],
  'lodgepole-pine': ['lodgepolepine', 'lp', 'lpp', 'pinuscontorta'],
  'red-pine': ['redpine', 'rp', 'norwaypine', 'pinusresinosa'],
  'ponderosa-pine': ['ponderosapine', 'pp', 'westernyellowpine', 'pinusponderosa'],
};

/** Finds a species by a name in use, in any case and with any marks between its words; `other` where it is none of those known. */
export function nameSpecies(name: string): Species {
  const letters = name.toLowerCase().replace(/[^a-z]/g, '');
  for (const [species, names] of Object.entries(NAMES)) {
    if (names.includes(letters)) return species as Species;
  }
  return 'other';
}
