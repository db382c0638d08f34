import { enableCompileCache } from 'node:module';
import { fileURLToPath } from 'node:url';

/**
 * Loaded by `--import` ahead of the program and of each of its threads: what Node compiles is kept between runs, which halves a
 * start. Beside the packages, since who can write there can change the program itself anyway; where nothing can be written,
 * nothing is kept.
 */
enableCompileCache(fileURLToPath(new URL('../node_modules/.cache/stemroot', import.meta.url)));
