import { afterEach, describe, expect, it } from 'vitest';
import { type Desk, openDesk } from '../../core/workspace/index.ts';
import { makeWorkspace } from './visitFixture.ts';

let desk: Desk | undefined;
afterEach(async () => {
  await desk?.close();
  desk = undefined;
});

async function makeDesk(): Promise<Desk> {
  const { store } = await makeWorkspace();
  const { path } = store;
  await store.close();
  desk = await openDesk(path);
  return desk;
}

describe('profiles of a line', () => {
  it('start from settings that say where they are from', async () => {
    const { winds, loadFactors, rules, classes, fibreStresses } = await (await makeDesk()).ask(
      'profiles.settings',
      {},
    );
    for (const { source } of [...winds, ...loadFactors]) expect(source).toContain('Check your local code');
    expect(winds.some(({ status }) => status === 'read')).toBe(true);
    // ANSI O5.1 class 4: 2400 lbf; southern pine: 8000 psi (from memory)
    expect(classes.find(({ code }) => code === '4')?.loadN).toBeCloseTo(2400 * 4.4482216152605, 6);
    expect(classes[0]!.code).toBe('H6');
    const pine = fibreStresses.find(({ species }) => species === 'southern-pine');
    expect(pine?.meanPa).toBeCloseTo(8000 * 6894.757293168, 3);
    expect(rules.map(({ factor }) => factor)).toEqual([2 / 3, 1 / 2, 1]);
  });

  it('are laid against a pole before they are kept: 500 Pa on 0.3 m x 10 m at half its height', async () => {
    const asked = await (await makeDesk()).ask('profiles.try', {
      profile: {
        name: 'Bare pole',
        source: 'Invented',
        wind: { pressurePa: 500, flatPressurePa: 800, iceThicknessM: 0, onPole: true, source: 'Invented' },
        conductors: [],
        equipment: [],
        forces: [],
        rule: { factor: 0.5, source: 'Invented' },
      },
      pole: { tipHeightM: 10, groundlineCircumferenceM: 0.3 * Math.PI, tipCircumferenceM: 0.3 * Math.PI },
    });
    expect(asked.groundlineMomentNm).toBeCloseTo(7500, 6);
    expect(asked.thresholdMomentNm).toBeCloseTo(3750, 6);
    expect(asked.items).toMatchObject([{ name: 'Wind on the pole' }]);
    expect(asked.items[0]!.armM).toBeCloseTo(5, 12);
  });

  it('are refused in words where nothing bends the pole', async () => {
    const empty = { name: 'Empty', source: 'Invented', conductors: [], equipment: [], forces: [] };
    const pole = { tipHeightM: 10, groundlineCircumferenceM: 1, tipCircumferenceM: 0.6 };
    const answer = await (await makeDesk()).answer('profiles.try', { profile: empty, pole });
    expect(answer).toMatchObject({ ok: false, code: 'requirement.empty' });
  });

  it('are refused in words on a pole whose tip is thicker than its ground line', async () => {
    const force = { name: 'pull', kind: 'tension' as const, heightM: 8, forceN: 1000 };
    const profile = { name: 'Pull', source: 'Invented', conductors: [], equipment: [], forces: [force] };
    const pole = { tipHeightM: 10, groundlineCircumferenceM: 0.1, tipCircumferenceM: 0.53 };
    const answer = await (await makeDesk()).answer('profiles.try', { profile, pole });
    expect(answer).toMatchObject({
      code: 'requirement.taper',
      message: 'The tip, 0.53 m around, is thicker than the ground line, 0.1 m around.',
    });
  });
});
