import type { Assessment } from './assessment.ts';

/** What to do next by the checks of a result and by how far it tells stem from root: each once, the gravest first. */
export function collectAdvice({ strikes, recordingChecks, identifiability }: Assessment): string[] {
  const checks = [...strikes.flatMap((strike) => strike.checks), ...recordingChecks];
  const advice = [
    ...checks.filter((check) => check.verdict === 'repeat').map((check) => check.advice),
    ...checks.filter((check) => check.verdict === 'use with care').map((check) => check.advice),
    identifiability?.advice ?? '',
  ];
  return [...new Set(advice)].filter((words) => words !== '');
}
