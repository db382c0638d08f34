import type { AssessedMode, Assessment, StemRootPicture } from './assessment.ts';
import { CAUTIONS } from './cautions.ts';
import { compareWithProposal } from './compareWithProposal.ts';
import { concludeOnStrength } from './concludeOnStrength.ts';
import {
  type Decision,
  type PickDecision,
  type PriorDecision,
  type SortedDecisions,
  type StrikeDecision,
  sortDecisions,
} from './decisions.ts';
import { InputError } from './errors.ts';
import { explainUncounted } from './explainUncounted.ts';
import { listFindings } from './findings.ts';
import { formatChance } from './formatNumbers.ts';
import { hashSha256 } from './hashSha256.ts';
import {
  type Assignment,
  assignModes,
  describePole,
  type FrequencyTable,
  fitRoots,
  gatherExtras,
  listPriors,
  type MeasuredShape,
  overridePriors,
  type PoleModel,
  pictureStemRoot,
  type RootMixture,
  rankNextMeasurements,
  rootModelsOf,
  type StemRootPosterior,
  type StemRootSummary,
  summarisePosterior,
  tabulateFrequencies,
} from './inference/index.ts';
import { isSamePeak } from './isSamePeak.ts';
import { listMovedPicks } from './listMovedPicks.ts';
import { listSureNumbers } from './listSureNumbers.ts';
import {
  identifyModes,
  MAXIMUM_HZ,
  type MeasuredValue,
  type MissingMode,
  type ModeCandidate,
  type ProposedMode,
  proposeModes,
  refineMode,
  type StrikeSegment,
} from './modal/index.ts';
import { Z_OF_90_PERCENT } from './ninetyPercent.ts';
import type { NumberedPick, Proposal, ProposedPick } from './numberedPick.ts';
import { findOverrule, isUsed, refuseUnknownStrikes } from './overruleStrikes.ts';
import { listPlausibleBands, plausibleReachHz } from './plausibleBands.ts';
import { PROGRAM } from './program.ts';
import { type ReadVisit, readRecordings, type VisitInput } from './readRecordings.ts';
import type { CalibratedRecording, Priors, VisitFile } from './recording/index.ts';
import { RESULT_DIGITS, roundNumbers } from './roundNumbers.ts';
import { judgeVisit, type StrikeJudgement, type VisitJudgement } from './signal/index.ts';
import { type Calibration, handbookCalibration } from './strength/index.ts';
import { tellFall } from './tellFall.ts';

export type AssessmentOutcome = {
  readonly assessment: Assessment;
  readonly picture: StemRootPicture | null;
  /** The likeliest root's posterior; null where nothing was fitted. */
  readonly fit: StemRootPosterior | null;
};

type Tabulated = Pick<AnalysedVisit, 'tables' | 'prior'>;

/** What a visit says before any analyst's decision: strikes, mode candidates, the pole's frequencies. Kept while picks change. */
export type AnalysedVisit = {
  readonly input: ReadVisit;
  readonly recordings: readonly CalibratedRecording[];
  readonly judgement: VisitJudgement;
  readonly segments: readonly StrikeSegment[];
  /** Peaks are looked for up to here: above it no numbered mode of this pole can lie. */
  readonly lookedAtHz: number;
  /** Of the principal planes that candidates and tables share. */
  readonly azimuthsDeg: readonly number[];
  readonly candidates: readonly ProposedMode[];
  /** From the sensor's axes to the principal planes. */
  readonly turnDeg: MeasuredValue;
  readonly missing: readonly MissingMode[];
  /** One table for each root model that is weighed, the usual first, and the models before any pick. */
  readonly tables: readonly FrequencyTable[];
  readonly prior: RootMixture;
  /** The same under the species' prior of the modulus, and under the usual roots, where the visit sets its own. */
  readonly bySpecies: Tabulated | null;
  readonly byUsualRoot: Tabulated | null;
  /** How the accepted candidates are numbered while nobody decided on any, most probable first. */
  readonly numberings: readonly Assignment[];
};

/** The chain uses no random numbers; the seed is kept with the result for the day that a step does. */
const SEED = 1;
/** Free decay starts behind the contact: 5 ms by hammer, up to 40 ms by hand (common practice, no source). */
const CONTACT_S = { hammer: 0.01, hand: 0.05, unknown: 0.05 } as const;
/** A strength is given where all numbers together are this sure (ours). */
const LEAST_NUMBERING_PROBABILITY = 0.6;
const MOST_RIVALS = 3;

/** The whole chain over one visit. */
export function assessVisit(
  input: VisitInput,
  decisions: readonly Decision[] = [],
  calibration: Calibration = handbookCalibration,
): AssessmentOutcome {
  return concludeVisit(analyseVisit(input, decisions), decisions, calibration);
}

/**
 * Reads and analyses the recordings of a visit: the slow half of the chain. Of the decisions, those on strikes and on
 * priors count here already.
 * @param judged - the strikes of the same recordings as judged before, under other decisions
 * @throws InputError, FormatError of the reading rooms; InputError `visit.recording` for a file that is not there
 */
export function analyseVisit(
  given: VisitInput | ReadVisit,
  decisions: readonly Decision[] = [],
  judged?: VisitJudgement,
): AnalysedVisit {
  const { strikes, priors } = sortDecisions(decisions);
  const { visitName } = given;
  const visit = priors.length === 0 ? given.visit : setPriors(given.visit, priors);
  const input = { visitName, visit, recordings: isRead(given) ? given.recordings : readRecordings(given) };
  const recordings = input.recordings.map(({ recording }) => recording);
  const judgement = judged ?? judgeVisit(recordings);
  refuseUnknownStrikes(strikes, recordings, judgement);
  const sensorHeightM = input.visit.measured.sensorHeightM ?? null;
  const segments = recordings.flatMap((recording, r) =>
    judgement.recordings[r]!.strikes.flatMap((strike, index) =>
      isUsed(strike.verdict, findOverrule(strikes, recording.fileName, index))
        ? (cutRingDown(recording, strike, index, sensorHeightM) ?? [])
        : [],
    ),
  );
  const models = describeRoots(input.visit);
  const { pole } = input.visit;
  const reachHz = tellFall(pole, models[0]!, () => plausibleReachHz(models));
  const lookedAtHz = Math.min(MAXIMUM_HZ, reachHz);
  const found = identifyModes(segments, { maximumHz: lookedAtHz });
  const azimuthsDeg =
    segments.length > 0 ? found.azimuthsDeg : recordings[0]!.channels.map((channel) => channel.azimuthDeg);
  const tabulate = (these: readonly PoleModel[]): Tabulated => {
    const tables = these.map((model) => tellFall(pole, model, () => tabulateFrequencies(model, azimuthsDeg)));
    return { tables, prior: fitRoots(tables, []) };
  };
  const tabulateUnlessSame = (visit: VisitFile) =>
    visit === input.visit ? null : tabulate(describeRoots(visit));
  const { tables, prior } = tabulate(models);
  const proposal = proposeModes(found.candidates, segments.length > 0 ? listPlausibleBands(tables) : [], {
    strikes: segments.length,
    cornerHz: segments.reduce<number | null>(
      (highest, { cornerHz }) => (cornerHz === null ? highest : Math.max(highest ?? 0, cornerHz)),
      null,
    ),
  });
  return {
    input,
    recordings,
    judgement,
    segments,
    lookedAtHz,
    azimuthsDeg,
    candidates: proposal.modes,
    turnDeg: found.turnDeg,
    missing: proposal.missing,
    tables,
    prior,
    bySpecies: tabulateUnlessSame(withUsual(input.visit, ['modulusPa'])),
    // of a soil that nobody stated, no root is told as soft
    byUsualRoot:
      input.visit.measured.soil === 'unknown'
        ? null
        : tabulateUnlessSame(
            withUsual(input.visit, ['soilModulus', 'rotationalStiffnessNmPerRad', 'rootModels', 'root']),
          ),
    numberings: numberPicks(tables[0]!, proposal.modes.filter(isAccepted).map(leaveFree)),
  };
}

/** The visit without these choices of its own; itself where it makes none. */
function withUsual(visit: VisitFile, names: readonly (keyof Priors | 'root')[]): VisitFile {
  const { root, priors, ...options } = visit.options;
  const isAsked = root !== undefined && names.includes('root');
  const own = names.filter((name) => name !== 'root').filter((name) => priors?.[name]);
  if (!isAsked && own.length === 0) return visit;
  return overridePriors(
    isAsked ? { ...visit, options: { ...options, ...(priors && { priors }) } } : visit,
    Object.fromEntries(own.map((name) => [name, null])),
  );
}

/** Fits stem and root to the modes, with the analyst's decisions, and concludes on strength: the quick half. */
export function concludeVisit(
  analysed: AnalysedVisit,
  given: readonly Decision[],
  calibration: Calibration = handbookCalibration,
): AssessmentOutcome {
  const decisions = sortDecisions(given);
  refuseContradictions(decisions.picks);
  const { input, tables, bySpecies, byUsualRoot } = analysed;
  const table = tables[0]!;
  const proposed = applyDecisions(analysed, decisions);
  const isAsProposed = decisions.picks.length === 0 && decisions.refusals.length === 0;
  const assignments = isAsProposed ? analysed.numberings : numberPicks(table, proposed);
  const numbers = assignments[0]?.numbers ?? [];
  const sure = listSureNumbers(assignments);
  const isRejected = (plane: number, number: number | null) =>
    decisions.picks.some((d) => d.plane === plane && d.number === number && d.frequencyHz === null);
  const settled = proposed
    .map((pick, index) => ({ ...pick, index, number: numbers[index] ?? null }))
    .filter((pick): pick is NumberedPick => pick.number !== null)
    .filter(({ index }) => sure[index] !== null)
    .sort((a, b) => a.candidate.plane - b.candidate.plane || a.number - b.number);
  const used = settled.filter(({ candidate, number }) => !isRejected(candidate.plane, number));
  const numberingProbability = sumProbabilities(
    assignments.filter((rival) => used.every(({ index, number }) => rival.numbers[index] === number)),
  );

  const fitUnder = (these: readonly FrequencyTable[]) =>
    fitRoots(
      these,
      used.map(({ candidate, number }) => ({
        plane: candidate.plane,
        number,
        frequencyHz: candidate.frequencyHz.value,
        sdHz: candidate.frequencyHz.sd,
      })),
      (at) => gatherExtras(at, input.visit.measured.staticPull, listShapes(used)),
    );
  const mixture = fitUnder(tables);
  const { posterior } = mixture[0]!;
  const proposal = listProposal(analysed);
  const refused = proposal.filter(({ candidate }) => isRefused(candidate, decisions.refusals));
  const rejected = proposal.filter(({ candidate: { plane }, number }) => isRejected(plane, number));
  const fitted =
    used.length > 0
      ? summarisePosterior(
          mixture,
          analysed.prior,
          new Set([...refused, ...rejected].flatMap(({ number }) => number ?? [])),
        )
      : null;
  const summariseUnder = (by: Tabulated | null) =>
    fitted && by ? summarisePosterior(fitUnder(by.tables), by.prior) : null;
  const usual = summariseUnder(bySpecies);
  const strikes = listStrikes(analysed, decisions.strikes);
  const modes = used.map((pick, i) => describeUsedMode(pick, posterior, i));
  const root = fitted && describeRoot(mixture, fitted, summariseUnder(byUsualRoot), input.visit);
  const furtherData = posterior.extras.map(({ name, measured }, i) => ({
    name,
    measured,
    ...posterior.results[used.length + i]!,
  }));
  const recordingWarnings = analysed.recordings.flatMap(({ fileName, warnings }) =>
    warnings.map(({ code, message }) => ({ recording: fileName, code, text: message })),
  );
  const comparison = compareWithProposal(proposal, proposed, used, decisions);
  const observed = listFindings({
    visit: input.visit,
    table,
    strikes,
    modes,
    ...comparison,
    moved: listMovedPicks(proposed),
    passedOver: listPassedOver(proposed, numbers, settled, decisions),
    furtherData,
    recordingWarnings,
    posterior: used.length > 0 ? posterior : null,
    root,
    refusedFirst: refused.filter(({ number }) => number === 1).map(({ candidate }) => candidate),
    isFirstUncounted: proposed.some(
      ({ candidate: { plane, frequencyHz } }) =>
        used.some((pick) => pick.candidate.plane === plane) &&
        used.every(
          ({ candidate: other }) => other.plane !== plane || other.frequencyHz.value > frequencyHz.value,
        ),
    ),
    stemDistances: fitted && {
      // a prior set by hand may draw the stem away from its species, or hide how far it is away
      species: bySpecies
        ? takeFarther(stemDistanceSds(fitted, bySpecies.tables), stemDistanceSds(usual!, bySpecies.tables))
        : stemDistanceSds(fitted, tables),
      ownPrior: bySpecies && stemDistanceSds(fitted, tables),
      drawn: usual && (fitted.lnModulus.mean - usual.lnModulus.mean) / usual.lnModulus.sd,
    },
    rivalProbability: used.length > 0 ? 1 - numberingProbability : 0,
    identifiability: fitted?.identifiability ?? null,
  });
  const withheldBecause =
    findReasonInStrikes(analysed, decisions, used.length, comparison.dropped.length) ??
    observed.find((finding) => finding.withholds)?.text ??
    findReasonInFit(fitted, numberingProbability);
  const stem = fitted && {
    modulusPa: fitted.modulusPa,
    lnModulus: fitted.lnModulus,
    densityKgPerM3: fitted.densityKgPerM3,
    priorModulusPa: fitted.priorModulusPa,
  };
  const priors = tables.flatMap((at) => listPriors(at.model)).filter(isFirstOfItsField);
  // rounded as it is told, so that a stored result under another calibration, and back, has the same digits
  const told = roundNumbers(
    {
      verdict: withheldBecause === null ? ('assessed' as const) : ('withheld' as const),
      withheldBecause,
      withheldBy: withheldBecause === null ? null : ('chain' as const),
      stem,
      root,
      modes,
      priors,
    },
    RESULT_DIGITS,
  );
  const conclusion = concludeOnStrength(input.visit, told, calibration);

  const assessment: Assessment = {
    visit: input.visitName,
    poleId: input.visit.pole.id,
    verdict: conclusion.verdict,
    withheldBecause: conclusion.withheldBecause,
    withheldBy: conclusion.withheldBy,
    priors,
    strikes,
    recordingWarnings,
    recordingChecks: analysed.judgement.repeatability.map(({ check }) => check),
    modes,
    otherPeaks: analysed.candidates
      .filter(
        (candidate) =>
          !used.some(
            ({ candidate: own }) =>
              own === candidate || isSamePeak(candidate, own.plane, own.frequencyHz.value),
          ),
      )
      .map((candidate) => ({
        plane: candidate.plane,
        azimuthDeg: candidate.azimuthDeg,
        frequencyHz: candidate.frequencyHz.value,
        prominenceDb: candidate.prominenceDb,
        reason: candidate.accepted
          ? `Not counted: ${explainUncounted(candidate, numberIn(proposal, candidate), proposed, decisions)}.`
          : candidate.reason,
      })),
    missingModes: [...analysed.missing],
    furtherData,
    assignments: assignments.slice(0, MOST_RIVALS).map(({ probability, numbers: given }) => ({
      probability,
      numbers: proposed.map(({ candidate }, i) => ({
        plane: candidate.plane,
        frequencyHz: candidate.frequencyHz.value,
        number: given[i] ?? null,
      })),
    })),
    stem,
    root,
    identifiability: fitted && {
      stem: fitted.identifiability.stem,
      root: fitted.identifiability.root,
      verdict: fitted.identifiability.verdict,
      advice: fitted.identifiability.advice,
      nextMeasurements: rankNextMeasurements(posterior, input.visit.measured.sensorHeightM),
    },
    strength: conclusion.strength,
    requirement: conclusion.requirement,
    findings: observed.map(({ withholds: _told, ...finding }) => finding),
    cautions: [...CAUTIONS],
    provenance: { program: PROGRAM, inputsSha256: hashInputs(input, given), seed: SEED },
  };
  const picture = fitted && pictureStemRoot(mixture, fitted, conclusion.requiredModulusPa);
  return { assessment: roundNumbers(assessment, RESULT_DIGITS), picture, fit: fitted && posterior };
}

function describeRoots(visit: VisitFile): PoleModel[] {
  return rootModelsOf(visit).map((root) => describePole(visit, root));
}

function isRead(given: VisitInput | ReadVisit): given is ReadVisit {
  return Array.isArray(given.recordings);
}

/** The free decay of a strike as the identification takes it; null where none is left behind the contact. */
function cutRingDown(
  recording: CalibratedRecording,
  { strike }: StrikeJudgement,
  strikeIndex: number,
  sensorHeightM: number | null,
): StrikeSegment | null {
  const start = strike.startIndex + Math.round(CONTACT_S[recording.exciter] * recording.sampleRateHz);
  const FEWEST_SAMPLES = 256;
  if (strike.endIndex - start < FEWEST_SAMPLES) return null;
  const corners = recording.channels.flatMap((channel) => channel.cornerHz ?? []);
  const heightsM = recording.channels.flatMap((channel) => channel.heightM ?? sensorHeightM ?? []);
  return {
    recording: recording.fileName,
    strikeIndex,
    sampleRateHz: recording.sampleRateHz,
    channels: recording.channels.map((channel) => channel.samplesMPerS2.subarray(start, strike.endIndex)),
    azimuthsDeg: recording.channels.map((channel) => channel.azimuthDeg),
    ...(heightsM.length === recording.channels.length && { heightsM }),
    noiseRms: [...strike.noiseRms],
    cornerHz: corners.length > 0 ? Math.max(...corners) : null,
    exciter: recording.exciter,
    ...(recording.exponentialWindowS !== undefined && { exponentialWindowS: recording.exponentialWindowS }),
  };
}

/** @throws InputError `picks.twice`, `picks.order` for decisions that cannot all be meant */
function refuseContradictions(decisions: readonly PickDecision[]): void {
  for (const [i, a] of decisions.entries()) {
    for (const b of decisions.slice(i + 1)) {
      if (a.plane !== b.plane) continue;
      if (a.number === b.number) {
        throw new InputError(
          'picks.twice',
          `Mode ${a.number} of plane ${a.plane} is decided twice: ${a.frequencyHz ?? 'none'} and ${b.frequencyHz ?? 'none'} Hz.`,
          'Keep one decision for each mode of a plane.',
        );
      }
      const rises = a.number < b.number;
      if (a.frequencyHz !== null && b.frequencyHz !== null && rises !== a.frequencyHz < b.frequencyHz) {
        throw new InputError(
          'picks.order',
          `Modes ${a.number} and ${b.number} of plane ${a.plane} are set at ${a.frequencyHz} and ${b.frequencyHz} Hz; frequencies rise with the number.`,
          'Renumber one of the two.',
        );
      }
    }
  }
}

/** Accepted candidates, with those replaced that an analyst set at a frequency and number of his own. */
function applyDecisions(analysed: AnalysedVisit, { picks, refusals }: SortedDecisions): ProposedPick[] {
  const set = picks.flatMap(({ plane, number, frequencyHz }): ProposedPick[] => {
    if (frequencyHz === null || analysed.segments.length === 0) return [];
    const candidate = {
      ...refineMode(analysed.segments, plane, frequencyHz, analysed.lookedAtHz),
      rank: null,
    };
    return [{ candidate, fixedNumber: number, setHz: frequencyHz }];
  });
  const isReplaced = (candidate: ModeCandidate) =>
    set.some((pick) => isSamePeak(candidate, pick.candidate.plane, pick.candidate.frequencyHz.value));
  const kept = analysed.candidates
    .filter((candidate) => candidate.accepted && !isReplaced(candidate) && !isRefused(candidate, refusals))
    .map(leaveFree);
  return [...kept, ...set];
}

/** Mode-shape ratios of picks whose planes were sensed at several heights. */
function listShapes(used: readonly NumberedPick[]): MeasuredShape[] {
  return used.flatMap(({ candidate, number }) =>
    (candidate.shapeRatios ?? []).map((shape) => ({ plane: candidate.plane, number, ...shape })),
  );
}

function isRefused(candidate: ModeCandidate, refusals: SortedDecisions['refusals']): boolean {
  return refusals.some(({ plane, frequencyHz }) => isSamePeak(candidate, plane, frequencyHz));
}

/** Accepted peaks without a number below or between numbered ones of their plane, but for those in whose place an analyst declared a mode missing. */
function listPassedOver(
  proposed: readonly ProposedPick[],
  numbers: readonly (number | null)[],
  settled: readonly NumberedPick[],
  { picks }: SortedDecisions,
) {
  return proposed
    .filter(({ candidate: { plane, frequencyHz } }, i) => {
      if (numbers[i] != null) return false;
      const inPlane = settled.filter((pick) => pick.candidate.plane === plane);
      const above = inPlane.findIndex((pick) => pick.candidate.frequencyHz.value > frequencyHz.value);
      if (above < 0) return false;
      const lower = inPlane[above - 1]?.number ?? 0;
      const upper = inPlane[above]!.number;
      return !picks.some(
        (d) => d.plane === plane && d.frequencyHz === null && d.number > lower && d.number < upper,
      );
    })
    .map(({ candidate }) => ({
      azimuthDeg: Math.round(candidate.azimuthDeg),
      frequencyHz: candidate.frequencyHz.value,
    }));
}

/** Of ln E from the median of the tables' prior, in that prior's standard deviations. */
function stemDistanceSds({ lnModulus }: StemRootSummary, tables: readonly FrequencyTable[]): number {
  const { median, logSd } = tables[0]!.model.modulus;
  return (lnModulus.mean - Math.log(median)) / logSd;
}

function takeFarther(a: number, b: number): number {
  return Math.abs(a) > Math.abs(b) ? a : b;
}

function findReasonInStrikes(
  analysed: AnalysedVisit,
  { picks: set, refusals }: SortedDecisions,
  picks: number,
  dropped: number,
): string | null {
  const found = analysed.judgement.recordings.reduce((sum, { strikes }) => sum + strikes.length, 0);
  if (found === 0) return 'No strike was found in the recordings.';
  if (analysed.segments.length === 0) {
    const ignored =
      set.length > 0 ? ' Picks set by hand do not count without a strike that can be used.' : '';
    return `None of the ${found} strikes can be used; see their checks.${ignored}`;
  }
  if (picks > 0) return null;
  if (analysed.candidates.every((candidate) => !candidate.accepted)) {
    return 'No bending mode of the pole stands out of the strikes.';
  }
  const isAnyRefused = refusals.length > 0 || set.some((pick) => pick.frequencyHz === null);
  // what no longer counts though nobody refused it is told by a finding
  return isAnyRefused && dropped === 0 ? 'Every mode was refused.' : null;
}

function findReasonInFit(fitted: StemRootSummary | null, numberingProbability: number): string | null {
  if (fitted === null || numberingProbability < LEAST_NUMBERING_PROBABILITY) {
    return 'Which peak is which mode is not settled. Confirm the mode numbers, or strike again for the modes that are missing.';
  }
  if (fitted.identifiability.verdict === 'not separated') {
    return `The modes at hand cannot separate stem from root. ${fitted.identifiability.advice}`;
  }
  return null;
}

function listStrikes(
  { recordings, judgement }: AnalysedVisit,
  decisions: readonly StrikeDecision[],
): Assessment['strikes'] {
  return recordings.flatMap((recording, r) =>
    judgement.recordings[r]!.strikes.map(({ strike, verdict, checks }, index) => ({
      recording: recording.fileName,
      exciter: recording.exciter,
      startS: strike.startS,
      endS: strike.endS,
      contactS: strike.contactS,
      litToHz: strike.litToHz,
      verdict,
      ...describeOverrule(findOverrule(decisions, recording.fileName, index)),
      checks: [...checks],
    })),
  );
}

/** Root models share most of their priors. */
function isFirstOfItsField(
  prior: Assessment['priors'][number],
  index: number,
  all: Assessment['priors'],
): boolean {
  return all.findIndex((other) => other.setBy === prior.setBy) === index;
}

function numberPicks(table: FrequencyTable, picks: readonly ProposedPick[]): Assignment[] {
  return assignModes(
    table,
    picks.map(({ candidate, fixedNumber }) => ({
      plane: candidate.plane,
      frequencyHz: candidate.frequencyHz.value,
      sdHz: candidate.frequencyHz.sd,
      fixedNumber,
    })),
  );
}

/** Accepted candidates with the numbers that they carry while nobody decided on any. */
function listProposal({ candidates, numberings }: AnalysedVisit): Proposal {
  const numbers = listSureNumbers(numberings);
  return candidates.filter(isAccepted).map((candidate, i) => ({ candidate, number: numbers[i] ?? null }));
}

function numberIn(proposal: Proposal, candidate: ModeCandidate): number | null {
  return proposal.find((pick) => pick.candidate === candidate)?.number ?? null;
}

function isAccepted({ accepted }: ModeCandidate): boolean {
  return accepted;
}

function leaveFree(candidate: ProposedMode): ProposedPick {
  return { candidate, fixedNumber: null, setHz: null };
}

function sumProbabilities(assignments: readonly Assignment[]): number {
  return assignments.reduce((sum, { probability }) => sum + probability, 0);
}

function describeUsedMode(
  { candidate, fixedNumber, number }: NumberedPick,
  posterior: StemRootPosterior,
  index: number,
): AssessedMode {
  const result = posterior.results[index]!;
  return {
    plane: candidate.plane,
    azimuthDeg: candidate.azimuthDeg,
    number,
    frequencyHz: candidate.frequencyHz,
    dampingRatio: candidate.dampingRatio,
    source: fixedNumber === null ? 'proposed' : 'analyst',
    status: fixedNumber === null ? 'candidate' : 'confirmed',
    predictedHz: Math.exp(result.predicted),
    residual: result.residual,
    oddChance: result.oddChance,
    strikes: candidate.strikes,
    rank: fixedNumber === null ? candidate.rank : null,
    reason: candidate.reason,
  };
}

function describeRoot(
  mixture: RootMixture,
  fitted: StemRootSummary,
  underUsualRoot: StemRootSummary | null,
  { options, measured: { soil } }: VisitFile,
): NonNullable<Assessment['root']> {
  const { model } = mixture[0]!.posterior.table;
  const depthReachM = Z_OF_90_PERCENT * model.settingDepthSdM;
  return {
    model: model.root.model,
    chosenBecause: explainRoot(mixture, options.root !== undefined),
    models: mixture.map(({ posterior, probability }) => ({
      model: posterior.table.model.root.model,
      probability,
    })),
    rotationalStiffnessNmPerRad: fitted.rotationalStiffnessNmPerRad,
    fixity: fitted.fixity,
    fixityMapped: fitted.fixityMapped,
    settingDepthM: {
      value: model.settingDepthM,
      low: model.settingDepthM - depthReachM,
      high: model.settingDepthM + depthReachM,
      level: 0.9,
    },
    soilModulus:
      model.root.model === 'spring'
        ? null
        : { ...fitted.rootStiffness, unit: model.root.subgrade === 'linear' ? 'N/m3' : 'N/m2' },
    expectedRotationalStiffnessNmPerRad: fitted.expectedRotationalStiffnessNmPerRad,
    // a root set by hand may expect the softness that it should tell
    softRootChance:
      soil === 'unknown' ? null : Math.max(fitted.softRootChance, underUsualRoot?.softRootChance ?? 0),
  };
}

function explainRoot(mixture: RootMixture, isAsked: boolean): string {
  if (isAsked) return 'The visit asks for this root.';
  const [first, ...others] = mixture.map(
    ({ posterior, probability }) => `${posterior.table.model.root.model} ${formatChance(probability)}`,
  );
  const depth = mixture[0]!.posterior.table.model;
  const rivals = others.length > 0 ? `, against ${others.join(', ')}; the result is averaged over them` : '';
  return `Most probable by prior and modes: ${first}${rivals}. Setting depth ${depth.settingDepthM.toFixed(2)} m (${depth.settingDepthSource}).`;
}

function hashInputs({ visit, recordings }: ReadVisit, decisions: readonly Decision[]): string {
  const files = recordings.map(({ sha256 }) => sha256);
  return hashSha256(JSON.stringify({ visit, decisions, program: PROGRAM, recordings: files }));
}

function describeOverrule(
  overrule: StrikeDecision | undefined,
): Pick<Assessment['strikes'][number], 'overruled'> {
  return overrule ? { overruled: { use: overrule.use, reason: overrule.reason } } : {};
}

/** The visit with priors that an analyst set; root models that compete stand in for the one that the visit asks for. @throws InputError `visit.field` for one that is out of range */
function setPriors(visit: VisitFile, decisions: readonly PriorDecision[]): VisitFile {
  const { root: _asked, ...options } = visit.options;
  const compete = decisions.some(({ prior }) => prior.name === 'rootModels');
  return overridePriors(
    compete ? { ...visit, options } : visit,
    Object.fromEntries(decisions.map(({ prior: { name, ...prior } }) => [name, prior])),
  );
}
