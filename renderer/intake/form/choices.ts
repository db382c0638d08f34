import { SOILS, SPECIES } from '../../../core/workspace/contract.ts';
import { describeSpecies } from '../../words/index.ts';

type Choices = readonly (readonly [value: string, words: string])[];

export const SPECIES_CHOICES: Choices = [
  ['', 'choose'],
  ...SPECIES.map((species) => [species, describeSpecies(species)] as const),
];

export const SOIL_CHOICES: Choices = SOILS.map((soil) => [
  soil,
  soil === 'unknown' ? 'not known' : soil.replaceAll('-', ' '),
]);

export const EXCITER_CHOICES: Choices = [
  ['hammer', 'hammer'],
  ['hand', 'hand'],
  ['unknown', 'not known'],
];
