import type { PoleModel } from '../../core/inference/index.ts';
import { describePole, rootModelsOf } from '../../core/inference/index.ts';
import { checkVisit, type VisitFile } from '../../core/recording/index.ts';

/** A visit to an invented pole, with changes for the case at hand. */
export function makeVisit(
  changes: { pole?: object; measured?: object; options?: object; requirement?: object } = {},
): VisitFile {
  return checkVisit(
    {
      format: 'stemroot-visit',
      version: 1,
      pole: {
        id: 'T-1',
        species: 'southern-pine',
        treatment: 'creosote',
        classCode: '4',
        lengthM: 10.67,
        buttToTagM: 3.2,
        ...changes.pole,
      },
      measured: {
        date: '2026-05-03',
        circumferences: [{ heightM: 1.7, circumferenceM: 0.8 }],
        topCircumferenceM: 0.56,
        tagHeightM: 1.53,
        sensorHeightM: 2,
        sensorMassKg: 0.4,
        soil: 'medium-sand',
        moisturePercent: 22,
        temperatureC: 15,
        ...changes.measured,
      },
      recordings: [{ file: 'hammer.wav', exciter: 'hammer', channels: [{ index: 0, azimuthDeg: 0 }] }],
      ...(changes.requirement ? { requirement: changes.requirement } : {}),
      options: changes.options ?? {},
    },
    'T-1.visit.json',
  );
}

export function makeModel(changes: Parameters<typeof makeVisit>[0] = {}): PoleModel {
  const visit = makeVisit(changes);
  return describePole(visit, rootModelsOf(visit)[0]!);
}
