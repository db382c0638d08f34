/**
 * Peaks and prominences against scipy.signal.find_peaks (Virtanen et al. 2020, Nature Methods 17:261-272),
 * asked at test time. Agreement: the same indices; prominences to the last bit, since both subtract the same
 * two numbers.
 */
import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import { findPeaks } from '../../core/modal/index.ts';
import { createNormal } from '../modal/makeDecay.ts';
import { hasScipy } from './askScipy.ts';

const available = hasScipy();
if (!available)
  console.warn(
    'SKIPPED: no SciPy at /usr/bin/python3, so peaks were not held against it (apt-get install python3-scipy).',
  );

const SCRIPT = `
import json, sys
import numpy as np
from scipy.signal import find_peaks
job = json.load(sys.stdin)
peaks, found = find_peaks(np.array(job["values"]), prominence=job["prominence"], distance=job["distance"])
json.dump({"index": peaks.tolist(), "prominence": found["prominences"].tolist()}, sys.stdout)
`;

describe.skipIf(!available)('scipy.signal.find_peaks', () => {
  test.each([
    { name: 'noise', length: 3000, step: 0, prominence: 0, distance: 1 },
    { name: 'noise, prominent', length: 3000, step: 0, prominence: 2.5, distance: 1 },
    { name: 'steps with many flat tops', length: 3000, step: 1, prominence: 0, distance: 1 },
    { name: 'a wandering line, thinned', length: 3000, step: 0, prominence: 0.5, distance: 17 },
  ])('$name', ({ name, length, step, prominence, distance }) => {
    const normal = createNormal(length + distance);
    let level = 0;
    const values = Float64Array.from({ length }, () => {
      level = name.includes('wandering') ? level + normal() : normal();
      return step > 0 ? Math.round(level / step) * step : level;
    });
    const run = spawnSync('/usr/bin/python3', ['-c', SCRIPT], {
      input: JSON.stringify({ values: [...values], prominence, distance }),
      encoding: 'utf8',
    });
    expect(run.status, run.stderr).toBe(0);
    const wanted = JSON.parse(run.stdout) as { index: number[]; prominence: number[] };
    const peaks = findPeaks(values, { minimumProminence: prominence, minimumDistance: distance });
    expect(peaks.index.length).toBeGreaterThan(50);
    expect([...peaks.index]).toEqual(wanted.index);
    expect([...peaks.prominence]).toEqual(wanted.prominence);
  });
});
