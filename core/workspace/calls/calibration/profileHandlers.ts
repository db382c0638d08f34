import { chooseProfile, insertProfile, listProfiles } from '../../calibration/profiles.repository.ts';
import type { profileCalls } from '../../contract/calibration/profileCalls.ts';
import type { HandlersOf } from '../../handlers.ts';
import type { Store } from '../../store.ts';

export function createProfileHandlers({ db }: Store): HandlersOf<typeof profileCalls> {
  return {
    'profiles.list': async () => ({ profiles: await listProfiles(db) }),
    'profiles.keep': ({ profile, author }) => insertProfile(db, profile, author),
    'profiles.choose': async ({ profileId, poleIds, chosenBy }) => {
      const unique = [...new Set(poleIds)];
      await chooseProfile(db, profileId, unique, chosenBy);
      return { poles: unique.length };
    },
  };
}
