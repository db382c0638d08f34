import type { Configuration } from 'electron-builder';

/**
 * What a package of the desktop shell is made of. The builds, and the packages that they import; no sources, samples or tests.
 * Nothing is fetched or sent by it: no updates, no crash reports.
 */
export const packaging: Configuration = {
  appId: 'app.stemroot.workbench',
  productName: 'Stemroot',
  copyright: 'MIT licence',
  directories: { output: 'dist/packages' },
  files: ['dist/electron/**', 'dist/renderer/**', 'package.json', 'LICENSE', '!**/*.{ts,map,md}'],
  asar: true,
  // a native module is loaded by the operating system, which cannot look into the archive
  asarUnpack: ['node_modules/better-sqlite3/prebuilds/**'],
  // better-sqlite3 brings its binaries for each system; nothing is compiled
  npmRebuild: false,
  publish: null,
  // Electron, "Fuses": what a packaged program can no longer be talked into
  electronFuses: {
    runAsNode: false,
    enableCookieEncryption: true,
    enableNodeOptionsEnvironmentVariable: false,
    enableNodeCliInspectArguments: false,
    enableEmbeddedAsarIntegrityValidation: true,
    onlyLoadAppFromAsar: true,
    grantFileProtocolExtraPrivileges: false,
  },
  linux: {
    target: ['AppImage', 'deb'],
    category: 'Science',
    synopsis: 'Bending capacity of struck wooden poles',
    maintainer: 'Stemroot maintainers <maintainers@stemroot.invalid>',
  },
  mac: { target: ['dmg'], category: 'public.app-category.utilities', hardenedRuntime: true },
  win: { target: ['nsis'] },
  nsis: { oneClick: false, perMachine: false },
};
