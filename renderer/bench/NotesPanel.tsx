import './notes.css';
import { ActionIcon, Tabs } from '@mantine/core';
import { useMediaQuery } from '@mantine/hooks';
import { IconArrowsMaximize, IconArrowsMinimize } from '@tabler/icons-react';
import { memo, type ReactNode } from 'react';
import { collectFindings } from '../../core/workspace/contract.ts';
import { ScrollRegion } from '../parts/index.ts';
import type { Assessment, Bench, Reading } from '../types.ts';
import { FindingNotes } from './FindingNotes.tsx';
import { ModelNotes } from './ModelNotes.tsx';
import type { Plane } from './pickRows.ts';
import { RulingNotes } from './RulingNotes.tsx';
import { StrikeNotes } from './StrikeNotes.tsx';
import type { PickCommands } from './usePicks.ts';

/** As in window.css: from here on the notes have a column of their own. */
const WIDE = '(min-width: 1700px)';

type Note = { id: string; title: string; count: string; body: ReactNode };

/** What is said in words about the visit: all of it at once where there is room, else one subject at a time. */
export const NotesPanel = memo(function NotesPanel({
  bench,
  readings,
  assessment,
  isStored,
  planes,
  commands,
  isTall,
  onTall,
}: {
  bench: Bench;
  readings: readonly Reading[];
  assessment: Assessment | null;
  /** Whether this is the stored assessment. */
  isStored: boolean;
  planes: readonly Plane[];
  commands: PickCommands;
  /** Whether the notes take the room of the results above them, where they have no column of their own. */
  isTall: boolean;
  onTall: (isTall: boolean) => void;
}) {
  const wide = useMediaQuery(WIDE, undefined, { getInitialValueInEffect: false });
  // other visits were compared with the stored result, not with one that is tried
  const compared = isStored ? bench.compared : [];
  const notes: Note[] = [
    {
      id: 'findings',
      title: 'Findings',
      count: assessment ? ` (${collectFindings(assessment, compared).length})` : '',
      body: assessment && (
        <FindingNotes assessment={assessment} compared={compared} planes={planes} commands={commands} />
      ),
    },
    {
      id: 'strikes',
      title: 'Strikes',
      count: assessment ? ` (${countOdd(assessment)} to heed)` : '',
      body: assessment && (
        <StrikeNotes assessment={assessment} recordings={bench.recordings} readings={readings} />
      ),
    },
    {
      id: 'model',
      title: 'Model and priors',
      count: '',
      body: assessment && <ModelNotes assessment={assessment} visit={bench.visit} />,
    },
    {
      id: 'rulings',
      title: 'Rulings',
      count: ` (${bench.rulings.filter(({ withdrawn }) => withdrawn === null).length})`,
      body: <RulingNotes bench={bench} isShown={isStored} />,
    },
  ];
  if (wide) {
    return (
      <div className="bench-notes notes-stack">
        {notes.map((note) => (
          <section key={note.id} className="panel" aria-labelledby={`note-${note.id}`}>
            <header className="panel-head">
              <h2 id={`note-${note.id}`}>
                {note.title}
                {note.count}
              </h2>
            </header>
            <ScrollRegion label={`${note.title} of this visit`} className="panel-body notes-body">
              {note.body}
            </ScrollRegion>
          </section>
        ))}
      </div>
    );
  }
  return (
    <section className="panel bench-notes" aria-label="Notes">
      <Tabs defaultValue="findings" className="notes-tabs" keepMounted={false}>
        <div className="notes-head">
          <Tabs.List>
            {notes.map((note) => (
              <Tabs.Tab key={note.id} value={note.id}>
                {note.title}
                {note.count}
              </Tabs.Tab>
            ))}
          </Tabs.List>
          <ActionIcon
            className="notes-room"
            variant="default"
            size={24}
            aria-label={isTall ? 'Notes below the pictures' : 'Notes in the place of the pictures'}
            title={isTall ? 'Notes below the pictures' : 'Notes in the place of the pictures'}
            aria-pressed={isTall}
            onClick={() => onTall(!isTall)}
          >
            {isTall ? <IconArrowsMinimize size={14} /> : <IconArrowsMaximize size={14} />}
          </ActionIcon>
        </div>
        {notes.map((note) => (
          <Tabs.Panel key={note.id} value={note.id} className="notes-body" tabIndex={0}>
            {note.body}
          </Tabs.Panel>
        ))}
      </Tabs>
    </section>
  );
});

function countOdd({ strikes }: Assessment): number {
  return strikes.filter((strike) => strike.verdict !== 'use').length;
}
