import manifest from '../package.json' with { type: 'json' };

/** Name and version of this program, as kept with every result. */
export const PROGRAM = `${manifest.name} ${manifest.version}`;
