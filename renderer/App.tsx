import { ActionIcon, Button, useComputedColorScheme, useMantineColorScheme } from '@mantine/core';
import { IconFileImport, IconMoon, IconSun } from '@tabler/icons-react';
import { Suspense, useEffect, useState } from 'react';
import { REGISTER_NOTICE } from '../core/workspace/contract.ts';
import { BenchPlace } from './bench/index.ts';
import { ChangeStrip } from './ChangeStrip.tsx';
import { CalibrationPlace } from './calibration/index.ts';
import { ClassroomPlace } from './classroom/index.ts';
import { Commands } from './commands/index.ts';
import {
  DraftKeeper,
  DropCatcher,
  HintStrip,
  ImportDialog,
  ShelfMenu,
  VisitFormPlace,
} from './intake/index.ts';
import { ErrorBoundary, NoticeStrip, Waiting } from './parts/index.ts';
import { RegisterPlace } from './register/index.ts';
import { ReportDialog } from './reports/index.ts';
import {
  type Place,
  recallChoices,
  type UnderWay,
  useAnswer,
  useRememberedTexts,
  useWindow,
} from './state/index.ts';
import type { CallResponse } from './types.ts';
import { useAddress } from './useAddress.ts';

/** The window: a bar with the places, and the place that is open. */
export function App() {
  const { place, visitId } = useWindow();
  useAddress();
  return (
    <div className="window">
      <WindowBar />
      <WindowNotices />
      <ChangeStrip />
      <HintStrip />
      <ErrorBoundary key={`${place} ${visitId}`}>
        {place === 'register' && <RegisterPlace />}
        {place === 'bench' && visitId !== null && <BenchPlace visitId={visitId} />}
        {place === 'calibration' && (
          <Suspense fallback={<Waiting what="Opening the calibration place." />}>
            <CalibrationPlace />
          </Suspense>
        )}
        {place === 'classroom' && <ClassroomPlace />}
        {place === 'intake' && <VisitFormPlace />}
      </ErrorBoundary>
      <ImportDialog />
      <DropCatcher />
      <DraftKeeper />
      <TextKeeper />
      <ReportDialog />
      <Commands />
    </div>
  );
}

/** On its own, so that nothing else is drawn anew with what is typed. */
function TextKeeper() {
  useRememberedTexts();
  return null;
}

const PLACES: readonly { place: Place; name: string }[] = [
  { place: 'register', name: 'Register' },
  { place: 'bench', name: 'Bench' },
  { place: 'calibration', name: 'Calibration' },
  { place: 'classroom', name: 'Classroom' },
  { place: 'intake', name: 'New visit' },
];

/** How often it is looked whether the notice of the register being made has gone. */
const LOOK_AGAIN_MS = 2000;

function WindowNotices() {
  const stored = useWindow((s) => s.stored);
  const [looks, setLooks] = useState(0);
  const notices = useAnswer('workspace.describe', {}, stored + looks).value?.notices ?? [];
  const passes = notices.some(({ code }) => code === REGISTER_NOTICE);
  useEffect(() => {
    if (!passes) return;
    const timer = setInterval(() => setLooks((last) => last + 1), LOOK_AGAIN_MS);
    return () => clearInterval(timer);
  }, [passes]);
  return <NoticeStrip notices={notices} />;
}

function WindowBar() {
  const { place: open, stored, lastVisitId, openVisit, openPlace, setImporting } = useWindow();
  useLastVisit();
  const workspace = useAnswer('workspace.describe', {}, stored).value;
  return (
    <header className="window-bar">
      <img src="./stemroot.svg" alt="" width={22} height={22} />
      <strong className="wordmark">Stemroot</strong>
      <nav aria-label="Places">
        {PLACES.map(({ place, name }) => {
          const isBench = place === 'bench';
          const isWithoutVisit = isBench && lastVisitId === null;
          return (
            <button
              key={place}
              type="button"
              aria-current={place === open ? 'page' : undefined}
              disabled={isWithoutVisit}
              title={isBench && open !== 'bench' ? sayWayToBench(isWithoutVisit) : undefined}
              onClick={() => {
                if (!isBench) openPlace(place);
                else if (lastVisitId !== null) openVisit(lastVisitId);
              }}
            >
              {name}
            </button>
          );
        })}
      </nav>
      <span className="spring" />
      {workspace && <ShelfMenu words={describeWorkspace(workspace)} />}
      <Button
        size="compact-sm"
        variant="default"
        disabled={Boolean(workspace?.readOnly)}
        leftSection={<IconFileImport size={16} />}
        onClick={() => setImporting(true)}
      >
        Bring in visits
      </Button>
      <SchemeSwitch />
    </header>
  );
}

function sayWayToBench(isWithoutVisit: boolean): string {
  return isWithoutVisit ? 'Open a visit from the register' : 'Back to the visit that was open last';
}

/** The way back to the bench that an earlier window left. */
function useLastVisit(): void {
  useEffect(() => {
    void recallChoices<UnderWay>('underway').then((left) => {
      if (left) useWindow.getState().recallVisit(left.visitId);
    });
  }, []);
}

function SchemeSwitch() {
  const { setColorScheme } = useMantineColorScheme();
  const scheme = useComputedColorScheme('light', { getInitialValueInEffect: false });
  const other = scheme === 'light' ? 'dark' : 'light';
  return (
    <ActionIcon
      variant="default"
      size={26}
      aria-label={`Change to ${other} colours`}
      title={`Change to ${other} colours`}
      onClick={() => setColorScheme(other)}
    >
      {scheme === 'light' ? <IconMoon size={16} /> : <IconSun size={16} />}
    </ActionIcon>
  );
}

function describeWorkspace({ name, poles, visits, notAssessed }: CallResponse<'workspace.describe'>): string {
  return `${name}: ${poles} poles, ${visits} visits${notAssessed > 0 ? `, ${notAssessed} not assessed` : ''}`;
}
