/*
 * Getting things in: files and folders chosen or dropped, a visit written down by hand, the shelf of workspaces opened lately, and
 * hints for somebody's first minutes.
 */
import './intake.css';

export { DropCatcher } from './bringing/DropCatcher.tsx';
export { ImportDialog } from './bringing/ImportDialog.tsx';
export { DraftKeeper } from './form/DraftKeeper.tsx';
export { VisitFormPlace } from './form/VisitFormPlace.tsx';
export { HintStrip } from './hints/HintStrip.tsx';
export { ShelfMenu } from './shelf/ShelfMenu.tsx';
