import type { SortedDecisions } from './decisions.ts';
import { explainUncounted } from './explainUncounted.ts';
import { isSamePeak } from './isSamePeak.ts';
import { namePlane } from './namePlane.ts';
import type { NumberedPick, Proposal, ProposedPick } from './numberedPick.ts';

/** What an analyst decided other than to confirm what was proposed. */
export type OwnPick = {
  readonly words: string;
  /** Of a pick that was set at a frequency. */
  readonly set: { readonly plane: number; readonly number: number } | null;
};

/** What an analyst decided on picks against what the program proposes without that, in words, and what no longer counts for it. */
export type Comparison = { readonly ownPicks: readonly OwnPick[]; readonly dropped: readonly string[] };

/**
 * Holds an analyst's decisions on picks against the proposal.
 * @param picks - all on their way to the fit
 * @param used - those that arrived there
 */
export function compareWithProposal(
  proposal: Proposal,
  picks: readonly ProposedPick[],
  used: readonly NumberedPick[],
  decisions: SortedDecisions,
): Comparison {
  const proposedAt = (plane: number, frequencyHz: number) =>
    proposal.find(({ candidate }) => isSamePeak(candidate, plane, frequencyHz));
  const ownPicks = [
    ...decisions.picks.flatMap(({ plane, number, frequencyHz }): OwnPick[] => {
      const name = `mode ${number} of plane ${plane + 1}`;
      if (frequencyHz === null) return [{ words: `${name} declared missing`, set: null }];
      const read = picks.find((pick) => pick.fixedNumber === number && pick.candidate.plane === plane);
      const peak = proposedAt(plane, read?.candidate.frequencyHz.value ?? frequencyHz);
      if (peak?.number === number) return [];
      const proposed = peak ? `, ${tellProposed(peak.number)}` : '';
      return [
        { words: `${name} set at ${frequencyHz.toPrecision(4)} Hz${proposed}`, set: { plane, number } },
      ];
    }),
    ...decisions.refusals
      .filter(({ plane, frequencyHz }) => proposedAt(plane, frequencyHz))
      .map(
        ({ plane, frequencyHz }): OwnPick => ({
          words: `${frequencyHz.toPrecision(4)} Hz in plane ${plane + 1} refused`,
          set: null,
        }),
      ),
  ];
  if (ownPicks.length === 0) return { ownPicks, dropped: [] };

  const isDecided = ({ candidate, number }: Proposal[number]) =>
    decisions.refusals.some((refusal) => isSamePeak(candidate, refusal.plane, refusal.frequencyHz)) ||
    decisions.picks.some((d) => d.plane === candidate.plane && d.number === number && d.frequencyHz === null);
  const dropped = proposal
    .filter(({ candidate, number }) => number !== null && !used.some((pick) => isAt(candidate, pick)))
    .filter(
      (pick) =>
        !isDecided(pick) && !picks.some((set) => set.fixedNumber !== null && isAt(pick.candidate, set)),
    )
    .map(
      ({ candidate, number }) =>
        `mode ${number} of ${namePlane(candidate.plane, candidate.azimuthDeg)} at ${candidate.frequencyHz.value.toPrecision(4)} Hz (${explainUncounted(candidate, number, picks, decisions)})`,
    );
  return { ownPicks, dropped };
}

function tellProposed(number: number | null): string {
  return number === null ? 'whose number was not sure' : `which was proposed as mode ${number}`;
}

function isAt(candidate: Proposal[number]['candidate'], { candidate: other }: ProposedPick): boolean {
  return isSamePeak(candidate, other.plane, other.frequencyHz.value);
}
