import { InputError } from '../../errors.ts';
import type { RequirementProfile } from '../../recording/index.ts';
import { tellWindSource } from '../../tellWindSource.ts';
import type { RequiredMoment, RequirementItem } from './requiredMoment.ts';
import { windOnPoleFace } from './windOnPoleFace.ts';

/** A pole as loads see it: a straight taper from ground line to tip. */
export type LoadedPole = {
  readonly tipHeightM: number;
  readonly groundlineDiameterM: number;
  readonly tipDiameterM: number;
};

type Kind = 'wind' | 'tension' | 'weight';
type Load = { name: string; kind: Kind; loadN: number; armM: number };

/** Standard acceleration of gravity, m/s2: CGPM 1901, exact. */
const STANDARD_GRAVITY = 9.80665;

/** Heights are told in rounded figures, and the depth that the tip hangs on is not sure. */
const TIP_TOLERANCE_M = 0.25;

const UNIT_FACTORS = { wind: 1, tension: 1, weight: 1, strength: 1, source: 'no load factor' };

/**
 * Computes the groundline moment that a line's loads ask of a pole: the sum of all, as if they acted in one
 * plane to one side (on the safe side), each times its load factor and over the strength factor.
 * - Wind on the pole: pressure on its face, see {@link windOnPoleFace}.
 * - Wind on conductors: pressure x (diameter + 2 ice) x wind span x cos(angle / 2), the span as the wind sees it
 *   along the bisector of the line's angle.
 * - Tension where the line turns: 2 T sin(angle / 2), along the same bisector.
 * - Wind on equipment: pressure x area. Its weight: m g x distance from the pole's axis.
 * Not in it: what deflection adds (weight that leans with the pole), ice's weight, gusts beyond the pressure given, guys.
 * Statics; the two angle terms are those of any text on line design (from memory).
 * @throws InputError `requirement.height` for a load above the tip; `requirement.empty` where nothing loads the pole
 */
export function requirementFromLoads(profile: RequirementProfile, pole: LoadedPole): RequiredMoment {
  refuseAboveTip(profile, pole.tipHeightM);
  const factors = profile.loadFactors ?? UNIT_FACTORS;
  const items = listLoads(profile, pole)
    .filter(({ loadN, armM }) => loadN * armM > 0)
    .map((load): RequirementItem => {
      const momentNm = load.loadN * load.armM;
      const factor = factors[load.kind] / factors.strength;
      return { ...load, momentNm, factor, requiredMomentNm: momentNm * factor };
    });
  if (items.length === 0) {
    throw new InputError(
      'requirement.empty',
      `Requirement "${profile.name}" has no load that bends the pole.`,
      'Enter wind, conductors, equipment or forces, or give the moment as a number.',
    );
  }
  return {
    groundlineMomentNm: items.reduce((sum, { requiredMomentNm }) => sum + requiredMomentNm, 0),
    source: [
      `${profile.name}: ${endSentence(profile.source)}`,
      profile.wind && `Wind: ${endSentence(tellWindSource(profile.wind))}`,
      `Factors: ${endSentence(factors.source)}`,
      'All loads to one side; what deflection adds is not in it. Check your local code.',
    ]
      .filter(Boolean)
      .join(' '),
    items,
  };
}

function listLoads({ wind, conductors, equipment, forces }: RequirementProfile, pole: LoadedPole): Load[] {
  const roundPa = wind?.pressurePa ?? 0;
  const flatPa = wind?.flatPressurePa ?? 0;
  const iceM = wind?.iceThicknessM ?? 0;
  return [
    ...(wind?.onPole
      ? [{ name: 'Wind on the pole', kind: 'wind' as const, ...windOnPoleFace(roundPa, pole) }]
      : []),
    ...conductors.flatMap(
      ({ name, count, heightM, diameterM, windSpanM, tensionN, lineAngleDeg }): Load[] => {
        const halfAngle = (lineAngleDeg * Math.PI) / 360;
        const faceM = (diameterM + 2 * iceM) * windSpanM * Math.cos(halfAngle);
        return [
          { name: `Wind on ${name}`, kind: 'wind', loadN: count * roundPa * faceM, armM: heightM },
          {
            name: `Tension of ${name}`,
            kind: 'tension',
            loadN: count * 2 * (tensionN ?? 0) * Math.sin(halfAngle),
            armM: heightM,
          },
        ];
      },
    ),
    ...equipment.flatMap(({ name, heightM, areaM2, face, massKg, offsetM }): Load[] => [
      {
        name: `Wind on ${name}`,
        kind: 'wind',
        loadN: areaM2 * (face === 'flat' ? flatPa : roundPa),
        armM: heightM,
      },
      {
        name: `Weight of ${name}`,
        kind: 'weight',
        loadN: (massKg ?? 0) * STANDARD_GRAVITY,
        armM: offsetM ?? 0,
      },
    ]),
    ...forces.map(({ name, kind, heightM, forceN }): Load => ({ name, kind, loadN: forceN, armM: heightM })),
  ];
}

function refuseAboveTip(profile: RequirementProfile, tipHeightM: number): void {
  for (const { name, heightM } of [...profile.conductors, ...profile.equipment, ...profile.forces]) {
    if (heightM <= tipHeightM + TIP_TOLERANCE_M) continue;
    throw new InputError(
      'requirement.height',
      `Requirement "${profile.name}": ${name} at ${heightM} m is above the tip, which stands ${tipHeightM.toFixed(2)} m over ground line.`,
      'Heights count from ground line in metres; check the height, the length of the pole and its setting depth.',
    );
  }
}

function endSentence(text: string): string {
  return /[.!?]$/.test(text.trim()) ? text.trim() : `${text.trim()}.`;
}
