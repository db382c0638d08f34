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
    const over = (event: DragEvent) => {
      // without this the browser would leave the window for the file
      if (hasFiles(event)) event.preventDefault();
    };
    const drop = (event: DragEvent) => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      setImporting(true);
      void fromDrop(event.dataTransfer!).then(bringIn);
    };
    window.addEventListener('dragover', over);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', over);
      window.removeEventListener('drop', drop);
    };
  }, [setImporting]);
  return null;
}
