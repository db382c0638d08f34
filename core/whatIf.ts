import type { AnalysedVisit } from './assess.ts';
import { concludeVisit } from './assess.ts';
import type { Decision } from './decisions.ts';
import { InputError } from './errors.ts';
import { type PoleChange, predictWhatIf } from './inference/index.ts';
import { deepestSettingM } from './recording/index.ts';

/** Frequencies of a changed pole beside those of the fitted one, and spectra to lay over the measured ones. */
export type WhatIf = {
  readonly frequenciesHz: readonly number[];
  readonly planes: readonly {
    readonly azimuthDeg: number;
    readonly fittedHz: readonly number[];
    readonly changedHz: readonly number[];
    /** Shape of the response to a short blow, greatest value 1 over the range. */
    readonly fittedResponse: readonly number[];
    readonly changedResponse: readonly number[];
  }[];
};

/** Where the visit does not say: blows at chest height (common practice, no source). */
const USUAL_STRIKE_HEIGHT_M = 1.3;
/** Damping of modes that were not measured (common practice, no source). */
const USUAL_DAMPING = 0.015;
const POINTS = 800;

/**
 * Predicts what a changed pole would ring like: |sum of participation w^2 / (w_n^2 - w^2 + 2 i zeta w_n w)| over modes, with the
 * damping that was measured.
 * @param maximumHz - end of the frequency axis, from 0
 * @throws InputError `what-if.fit` where the visit has no fit to change
 */
export function predictChange(
  analysed: AnalysedVisit,
  decisions: readonly Decision[],
  change: PoleChange,
  maximumHz: number,
): WhatIf {
  const { assessment, fit } = concludeVisit(analysed, decisions);
  if (fit === null) {
    throw new InputError(
      'what-if.fit',
      `${analysed.input.visitName} has no fitted stem and root to change.`,
      'Pick at least one mode first.',
    );
  }
  const { visit } = analysed.input;
  const deepestM = deepestSettingM(visit.pole.lengthM);
  if (change.settingDepthM !== undefined && !(change.settingDepthM < deepestM)) {
    throw new InputError(
      'what-if.depth',
      `Setting depth ${change.settingDepthM} m is not below half of the length, ${deepestM} m.`,
      'Give a smaller depth.',
    );
  }
  const heights = {
    strikeM:
      visit.recordings.find((entry) => entry.strikeHeightM != null)?.strikeHeightM ?? USUAL_STRIKE_HEIGHT_M,
    sensorM: visit.measured.sensorHeightM,
  };
  const frequenciesHz = Array.from({ length: POINTS }, (_, i) => (maximumHz * (i + 1)) / POINTS);
  const planes = fit.table.azimuthsDeg.map((azimuthDeg, plane) => {
    const dampingOf = (number: number) =>
      assessment.modes.find((mode) => mode.plane === plane && mode.number === number)?.dampingRatio.value ??
      USUAL_DAMPING;
    const base = predictWhatIf(fit.table, plane, fit.peak, {}, heights);
    const moved = predictWhatIf(fit.table, plane, fit.peak, change, heights);
    // the fit also moves girth, density and the like: what it predicts is kept, and the change is taken as a ratio
    const scales = base.frequenciesHz.map((f, i) => {
      const mode = assessment.modes.find((m) => m.plane === plane && m.number === i + 1);
      return (mode?.predictedHz ?? f) / f;
    });
    const scaled = (modes: typeof base) => ({
      ...modes,
      frequenciesHz: modes.frequenciesHz.map((f, i) => f * scales[i]!),
    });
    const fitted = scaled(base);
    const changed = scaled(moved);
    const respond = ({ frequenciesHz: modesHz, participation }: typeof fitted) => {
      const levels = frequenciesHz.map((f) => {
        let re = 0;
        let im = 0;
        modesHz.forEach((fn, mode) => {
          const a = fn * fn - f * f;
          const b = 2 * dampingOf(mode + 1) * fn * f;
          const scale = (participation[mode]! * f * f) / (a * a + b * b);
          re += scale * a;
          im -= scale * b;
        });
        return Math.hypot(re, im);
      });
      const greatest = Math.max(...levels);
      return levels.map((level) => level / greatest);
    };
    return {
      azimuthDeg,
      fittedHz: fitted.frequenciesHz,
      changedHz: changed.frequenciesHz,
      fittedResponse: respond(fitted),
      changedResponse: respond(changed),
    };
  });
  return { frequenciesHz, planes };
}
