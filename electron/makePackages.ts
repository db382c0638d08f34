import { build } from 'electron-builder';
import { buildWindow } from '../host/buildWindow.ts';
import { packaging } from './packaging.ts';

/**
 * Makes the packages of the desktop shell for the system that it is run on, in dist/packages. Signing needs the certificates of
 * whoever publishes them, as electron-builder's own documentation tells.
 */
await buildWindow();
await build({ config: packaging });
