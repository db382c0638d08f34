import { useLayoutEffect } from 'react';
import { useWindow } from '../../state/index.ts';
import { bringIn } from './bringIn.ts';
import { fromDrop } from './foundFile.ts';

/** Takes what is dropped anywhere on the window; a place that wants it for itself stops the event before. */
export function DropCatcher() {
  const setImporting = useWindow((s) => s.setImporting);
  // before the window is seen for the first time: what is dropped then is not lost
  useLayoutEffect(() => {
    const hasFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
    const allow = (event: DragEvent) => {
      // without this the browser would leave the window for the file
      if (hasFiles(event)) event.preventDefault();
    };
    const drop = (event: DragEvent) => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      setImporting(true);
      void fromDrop(event.dataTransfer!).then(bringIn);
    };
    // entering too: what lies below the pointer may change between its last move and the drop
    window.addEventListener('dragenter', allow);
    window.addEventListener('dragover', allow);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragenter', allow);
      window.removeEventListener('dragover', allow);
      window.removeEventListener('drop', drop);
    };
  }, [setImporting]);
  return null;
}
