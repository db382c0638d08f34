import type { Assessment } from './assessment.ts';
import { nameFinding } from './nameFinding.ts';
import { namePlane } from './namePlane.ts';

/**
 * What to do next: first about strikes and picks set by hand that the result rests on and about what withholds it, then by the
 * checks and by how far the result tells stem from root; each once, the gravest first.
 */
export function collectAdvice(assessment: Assessment): string[] {
  const { strikes, recordingChecks, identifiability, findings, withheldBecause } = assessment;
  const checks = [...strikes.flatMap((strike) => strike.checks), ...recordingChecks];
  const advice = [
    adviseOnOverruled(assessment),
    ...adviseOnOwnPicks(assessment),
    findings.find(({ text }) => text === withheldBecause)?.advice ?? '',
    ...checks.filter((check) => check.verdict === 'repeat').map((check) => check.advice),
    ...checks.filter((check) => check.verdict === 'use with care').map((check) => check.advice),
    identifiability?.advice ?? '',
  ];
  return [...new Set(advice)].filter((words) => words !== '');
}

/** Strikes that count by hand though their checks ask for another blow; empty where there are none. */
function adviseOnOverruled({ strikes }: Assessment): string {
  const kept = strikes.filter(({ verdict, overruled }) => verdict === 'repeat' && overruled?.use);
  if (kept.length === 0) return '';
  const list = kept.map(({ recording, startS, checks }) => {
    const faults = checks.filter(({ verdict }) => verdict === 'repeat').map(({ id }) => nameFinding(id));
    return `${recording} at ${startS.toFixed(2)} s (${faults.join(', ')})`;
  });
  return `Used by hand in spite of the checks: ${list.join('; ')}. Leave out what you cannot vouch for, or strike again.`;
}

/** Picks set by hand that a finding is about. */
function adviseOnOwnPicks({ findings, modes }: Assessment): string[] {
  const doubted = findings.flatMap((finding) => finding.modes ?? []);
  return modes
    .filter(
      ({ source, plane, number }) =>
        source === 'analyst' && doubted.some((pick) => pick.plane === plane && pick.number === number),
    )
    .map(({ plane, azimuthDeg, number, frequencyHz, strikes }) => {
      const set = `Mode ${number} of ${namePlane(plane, azimuthDeg)} was set by hand at ${frequencyHz.value.toPrecision(4)} Hz`;
      return strikes === 0
        ? `${set}, where no strike shows a mode: set it on a peak, or leave it to the program.`
        : `${set}, on a peak that may be of another number: check the number, or leave it to the program.`;
    });
}
