import { InputError } from '../../../errors.ts';
import { SPECIES } from '../../../recording/index.ts';
import {
  LOAD_FACTOR_SETTINGS,
  NO_RULE,
  requirementFromLoads,
  STRENGTH_LOSS_RULES,
  WIND_SETTINGS,
} from '../../../strength/index.ts';
import { findFibreStress, listPoleClasses } from '../../../wood/index.ts';
import {
  chooseProfile,
  findProfile,
  insertProfile,
  listProfiles,
  readLastProfileChoice,
} from '../../calibration/profiles.repository.ts';
import { refuseUnfitPoles } from '../../calibration/refuseUnfitPoles.ts';
import type { profileCalls } from '../../contract/calibration/profileCalls.ts';
import type { CallRequest } from '../../contract.ts';
import type { HandlersOf } from '../../handlers.ts';
import type { Store } from '../../store.ts';

export function createProfileHandlers({ db }: Store): HandlersOf<typeof profileCalls> {
  return {
    'profiles.list': async () => ({
      // read first: a choice made in between is then refused rather than overlooked
      lastChoice: await readLastProfileChoice(db),
      profiles: await listProfiles(db),
    }),
    'profiles.settings': () => ({
      winds: [...WIND_SETTINGS],
      loadFactors: [...LOAD_FACTOR_SETTINGS],
      rules: [...STRENGTH_LOSS_RULES],
      classes: listPoleClasses(),
      fibreStresses: SPECIES.flatMap((species) => {
        const stress = findFibreStress(species);
        return stress ? [{ species, ...stress }] : [];
      }),
    }),
    'profiles.try': ({ profile, pole }) => {
      refuseTopHeavy(pole);
      const { groundlineMomentNm, source, items } = requirementFromLoads(profile, {
        tipHeightM: pole.tipHeightM,
        groundlineDiameterM: pole.groundlineCircumferenceM / Math.PI,
        tipDiameterM: pole.tipCircumferenceM / Math.PI,
      });
      const { factor } = profile.rule ?? NO_RULE;
      return {
        groundlineMomentNm,
        thresholdMomentNm: factor * groundlineMomentNm,
        source,
        items: [...items!],
      };
    },
    'profiles.keep': ({ profile, author }) => insertProfile(db, profile, author),
    'profiles.choose': async ({ profileId, poleIds, ...choice }) => {
      const unique = [...new Set(poleIds)];
      if (profileId !== null) await refuseUnfitPoles(db, (await findProfile(db, profileId)).profile, unique);
      await chooseProfile(db, profileId, unique, choice);
      return { poles: unique.length };
    },
  };
}

/** @throws InputError `requirement.taper` for a tip thicker than the ground line: two girths that changed places */
function refuseTopHeavy(pole: CallRequest<'profiles.try'>['pole']): void {
  const { groundlineCircumferenceM, tipCircumferenceM } = pole;
  if (tipCircumferenceM <= groundlineCircumferenceM) return;
  throw new InputError(
    'requirement.taper',
    `The tip, ${tipCircumferenceM} m around, is thicker than the ground line, ${groundlineCircumferenceM} m around.`,
    'Poles taper towards the tip; check both girths.',
  );
}
