import { createHash } from 'node:crypto';
import type { ResultSummary } from '../../core/workspace/summarise.ts';
import { visit as wholeVisit } from '../../tests/report/fixture.ts';

/** Findings as they come: one that nearly every pole has, and rarer ones. */
const FINDINGS = ['soft-root', 'one-sided', 'faulty-strikes', 'rival-assignment', 'misfit'] as const;
const SPECIES = ['southern-pine', 'douglas-fir', 'western-redcedar'] as const;
const FAULTS = ['clipping', 'double-blow', 'cut-short', 'rattle'] as const;

/** What is stored of an invented visit to a pole of its own, without recordings: the same for the same number. */
export function inventVisit(i: number) {
  const code = `LR-${String(i).padStart(6, '0')}`;
  const species = SPECIES[i % SPECIES.length]!;
  const file = Buffer.from(
    JSON.stringify({ ...wholeVisit, pole: { ...wholeVisit.pole, id: code, species } }),
  );
  return {
    code,
    date: `20${String(10 + (i % 17)).padStart(2, '0')}-0${1 + (i % 9)}-1${i % 10}`,
    file,
    sha256: createHash('sha256').update(file).digest('hex'),
    summary: inventSummary(i),
  };
}

/** A summary spread over what there is by a fixed pattern: the same for the same place. */
function inventSummary(i: number): ResultSummary {
  const share = (step: number) => ((i * step) % 1009) / 1009;
  const verdict = i % 23 === 0 ? 'withheld' : 'assessed';
  const capacityNm = verdict === 'withheld' ? null : 50e3 + 90e3 * share(37);
  const modulusPa = 7e9 + 7e9 * share(53);
  const fixity = 2 + 12 * share(71);
  const spread = (value: number) => ({ value, low: value * 0.8, high: value * 1.25 });
  const found = 4;
  const frequenciesHz = [1 + share(11), 6 + 3 * share(13), 17 + 8 * share(17)];
  return {
    verdict,
    frequenciesHz,
    modulusPa,
    fixity,
    identifiability: i % 7 === 0 ? 'one-sided' : 'separated',
    capacityNm: capacityNm === null ? null : spread(capacityNm),
    lower5PercentNm: capacityNm && 0.75 * capacityNm,
    calibration: capacityNm === null ? null : 'handbook@1',
    program: 'stemroot',
    requirementNm: 75e3,
    chanceBelow: capacityNm && share(29),
    thresholdNm: 50e3,
    chanceBelowThreshold: capacityNm && share(29) / 4,
    strikes: {
      found,
      usable: found - (i % 11 === 0 ? 1 : 0),
      faults: i % 11 === 0 ? [FAULTS[i % FAULTS.length]!] : [],
    },
    findings: [
      { id: 'section-not-inspected', text: 'The section at ground line was not inspected. '.repeat(4) },
      ...(i % 3 === 0
        ? [{ id: FINDINGS[i % FINDINGS.length]!, text: 'Softer than its soil and depth explain. '.repeat(4) }]
        : []),
    ],
    modulusIntervalPa: spread(modulusPa),
    fixityInterval: spread(fixity),
    withheldBy: verdict === 'withheld' ? 'chain' : null,
    withheldBecause: verdict === 'withheld' ? 'None of the 4 strikes can be used; see their checks.' : null,
    setByHand: [],
    modes: frequenciesHz.flatMap((frequencyHz, m) =>
      [0, 90].map((azimuthDeg, plane) => ({ plane, azimuthDeg, number: m + 1, frequencyHz })),
    ),
  };
}
