/**
 * Host: the same contract over loopback for a browser window, and the command line. What it shares with the
 * desktop shell is how files of the window are served, under which headers, and the log.
 */
export { logCalls } from './logCalls.ts';
export { openLog } from './openLog.ts';
export { SECURITY_HEADERS } from './securityHeaders.ts';
export { type ChooseWorkspace, openWorkbench } from './shelf/index.ts';
export { readStaticFile } from './staticFile.ts';
