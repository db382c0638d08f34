import { InputError } from '../../core/errors.ts';
import type { CallRequest, CallResponse, Handlers } from '../../core/workspace/index.ts';
import { ask } from './ask.ts';
import { readInput } from './files.ts';
import { layTable, print, printJson } from './print.ts';
import { withWorkspace } from './register.ts';

type Profile = CallRequest<'profiles.keep'>['profile'];
type Kept = CallResponse<'profiles.list'>['profiles'][number];

/** Stands for no profile: the pole is compared with the load of its class. */
const CLASS = 'class';
const NEWTON_METRES_IN_KNM = 1000;

/** Prints winds, load factors and rules to start a profile from, each with its source. */
export function runSettings(workspace: string, { json }: { json?: boolean }): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const settings = await ask(handlers, 'profiles.settings', {});
    if (json) {
      printJson(settings);
      return 0;
    }
    const { winds, loadFactors, rules, classes, fibreStresses } = settings;
    print(
      layTable(
        ['Wind', 'round, Pa', 'flat, Pa', 'ice, m', 'Status', 'Source'],
        winds.map((wind) => [
          wind.name,
          wind.pressurePa.toFixed(0),
          wind.flatPressurePa.toFixed(0),
          wind.iceThicknessM.toFixed(4),
          wind.status,
          wind.source,
        ]),
      ),
    );
    print(
      `\n${layTable(
        ['Factors', 'wind', 'tension', 'weight', 'strength', 'Status', 'Source'],
        loadFactors.map(({ name, wind, tension, weight, strength, status, source }) => [
          name,
          ...[wind, tension, weight, strength].map(String),
          status,
          source,
        ]),
      )}`,
    );
    print(
      `\n${layTable(
        ['Rule', 'share', 'Source'],
        rules.map(({ name, factor, source }) => [name, factor.toFixed(3), source]),
      )}`,
    );
    print(
      `\n${layTable(
        ['Class', 'load, N', 'least tip girth, m', 'Status'],
        classes.map(({ code, loadN, leastTipCircumferenceM, status }) => [
          code,
          loadN.toFixed(0),
          leastTipCircumferenceM.toFixed(3),
          status,
        ]),
      )}\n${classes[0]!.source}`,
    );
    print(
      `\n${layTable(
        ['Species', 'fibre stress, MPa', 'Status'],
        fibreStresses.map(({ species, meanPa, status }) => [species, (meanPa / 1e6).toFixed(1), status]),
      )}\n${fibreStresses[0]!.source}`,
    );
    return 0;
  });
}

export type TryProfileOptions = { height: number; girth: number; tipGirth: number; json?: boolean };

/** Lays a profile against a pole before it is kept. */
export function runTryProfile(workspace: string, path: string, options: TryProfileOptions): Promise<number> {
  const profile = readProfile(path);
  return withWorkspace(workspace, async (handlers) => {
    const asked = await ask(handlers, 'profiles.try', {
      profile,
      pole: {
        tipHeightM: options.height,
        groundlineCircumferenceM: options.girth,
        tipCircumferenceM: options.tipGirth,
      },
    });
    if (options.json) {
      printJson(asked);
      return 0;
    }
    print(
      layTable(
        ['Load', 'N', 'arm, m', 'moment, kN·m', 'factor', 'required, kN·m'],
        asked.items.map(({ name, loadN, armM, momentNm, factor, requiredMomentNm }) => [
          name,
          loadN.toFixed(0),
          armM.toFixed(2),
          inKnm(momentNm),
          factor.toFixed(2),
          inKnm(requiredMomentNm),
        ]),
      ),
    );
    print(
      `\nRequired at ground line: ${inKnm(asked.groundlineMomentNm)} kN·m; replaced or restored below ${inKnm(asked.thresholdMomentNm)} kN·m.`,
    );
    print(`${asked.source}. Check your local code.`);
    return 0;
  });
}

/** Keeps a profile as the next version of its name. */
export function runKeepProfile(
  workspace: string,
  path: string,
  { author }: { author: string },
): Promise<number> {
  const profile = readProfile(path);
  return withWorkspace(workspace, async (handlers) => {
    const { number } = await ask(handlers, 'profiles.keep', { profile, author });
    print(`Kept ${profile.name}, version ${number}. Poles are compared with it once it is chosen for them.`);
    return 0;
  });
}

/** Prints every version of every profile. */
export function runListProfiles(workspace: string, { json }: { json?: boolean }): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { profiles } = await ask(handlers, 'profiles.list', {});
    if (json) printJson(profiles);
    else if (profiles.length === 0) print('No profile is kept: every pole is compared with its class.');
    else {
      print(
        layTable(
          ['Profile', 'Version', 'Author', 'Kept', 'Poles', 'Source'],
          profiles.map(({ name, number, author, keptAt, poles, profile }) => [
            name,
            String(number),
            author,
            keptAt.slice(0, 10),
            String(poles),
            profile.source,
          ]),
        ),
      );
    }
    return 0;
  });
}

/** Has poles compared with a profile, or with their class again, from their next result on. */
export function runChooseProfile(
  workspace: string,
  name: string,
  poleIds: string[],
  { by }: { by: string },
): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { lastChoice } = await ask(handlers, 'profiles.list', {});
    const found = name === CLASS ? null : await findProfile(handlers, name);
    const { poles } = await ask(handlers, 'profiles.choose', {
      profileId: found?.profileId ?? null,
      poleIds,
      chosenBy: by,
      seenChoice: lastChoice,
    });
    const what = found ? `${found.name}, version ${found.number}` : 'the load of their class';
    print(
      `${poles} poles are compared with ${what} from their next result on; calibrate recompute brings all of them.`,
    );
    return 0;
  });
}

/** The profile of a name, or of a name and a version as `name@2`. @throws InputError `requirement.unknown` */
async function findProfile(handlers: Handlers, label: string): Promise<Kept> {
  const { profiles } = await ask(handlers, 'profiles.list', {});
  const found = profiles.find(({ name, number }) => label === name || label === `${name}@${number}`);
  if (found) return found;
  const known = profiles.map(({ name, number }) => `${name}@${number}`);
  throw new InputError(
    'requirement.unknown',
    `There is no requirement profile "${label}" in this workspace.`,
    `There are: ${[CLASS, ...known].join(', ')}.`,
  );
}

/** Reads a profile; what is wrong in its fields is said where it is used. @throws InputError `file.unreadable`, `requirement.file` */
function readProfile(path: string): Profile {
  const text = readInput(path).toString('utf8');
  try {
    return JSON.parse(text) as Profile;
  } catch (error) {
    throw new InputError(
      'requirement.file',
      `${path} is not JSON: ${(error as Error).message}.`,
      'docs/requirement.md has an example of a profile.',
    );
  }
}

function inKnm(momentNm: number): string {
  return (momentNm / NEWTON_METRES_IN_KNM).toFixed(1);
}
