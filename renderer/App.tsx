import { ActionIcon, Button, useComputedColorScheme, useMantineColorScheme } from '@mantine/core';
import { IconFileImport, IconMoon, IconSun } from '@tabler/icons-react';
import { useEffect } from 'react';
import { BenchPlace } from './bench/index.ts';
import { ImportDialog } from './importing/index.ts';
import { ErrorBoundary } from './parts/index.ts';
import { RegisterPlace } from './register/index.ts';
import { useAnswer, useWindow } from './state/index.ts';
import { useAddress } from './useAddress.ts';
import { useUnstoredGuard } from './useUnstoredGuard.ts';

/** The window: a bar with the places, and the place that is open. */
export function App() {
  const visitId = useWindow((s) => s.visitId);
  useAddress();
  useDroppedFiles();
  useUnstoredGuard();
  return (
    <div className="window">
      <WindowBar />
      <ErrorBoundary key={visitId}>
        {visitId === null ? <RegisterPlace /> : <BenchPlace visitId={visitId} />}
      </ErrorBoundary>
      <ImportDialog />
    </div>
  );
}

function WindowBar() {
  const { visitId, stored, openRegister, setImporting } = useWindow();
  const workspace = useAnswer('workspace.describe', {}, stored).value;
  return (
    <header className="window-bar">
      <img src="./stemroot.svg" alt="" width={22} height={22} />
      <strong className="wordmark">Stemroot</strong>
      <nav aria-label="Places">
        <button type="button" aria-current={visitId === null ? 'page' : undefined} onClick={openRegister}>
          Register
        </button>
        <button
          type="button"
          aria-current={visitId === null ? undefined : 'page'}
          disabled={visitId === null}
          title={visitId === null ? 'Open a visit from the register' : undefined}
        >
          Bench
        </button>
      </nav>
      <span className="spring" />
      {workspace && (
        <span className="quiet workspace-words">
          {workspace.name}: {workspace.poles} poles, {workspace.visits} visits
          {workspace.notAssessed > 0 && `, ${workspace.notAssessed} not assessed`}
        </span>
      )}
      <Button
        size="compact-sm"
        variant="default"
        leftSection={<IconFileImport size={16} />}
        onClick={() => setImporting(true)}
      >
        Bring in visits
      </Button>
      <SchemeSwitch />
    </header>
  );
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

/** Files dropped anywhere open the dialog that brings them in. */
function useDroppedFiles(): void {
  const setImporting = useWindow((s) => s.setImporting);
  useEffect(() => {
    const open = (event: DragEvent) => {
      if (event.dataTransfer?.types.includes('Files')) {
        event.preventDefault();
        setImporting(true);
      }
    };
    window.addEventListener('dragover', open);
    return () => window.removeEventListener('dragover', open);
  }, [setImporting]);
}
