import { defineConfig } from 'vite';

const PRELOAD = 'preload';

/**
 * Build of the shell, once a mode: `main` (ES module) and `preload` (CommonJS, the only form that a sandboxed
 * preload may have). Packages from node_modules stay outside of the bundle.
 */
export default defineConfig(({ mode }) => ({
  build: {
    ssr: mode === PRELOAD ? 'electron/preload.ts' : 'electron/main.ts',
    outDir: 'dist/electron',
    emptyOutDir: false,
    target: 'node24',
    rolldownOptions: {
      external: ['electron'],
      output:
        mode === PRELOAD
          ? { format: 'cjs' as const, entryFileNames: 'preload.cjs' }
          : { format: 'es' as const, entryFileNames: 'main.js' },
    },
  },
}));
