/** The arrows between the rooms; see DEVELOPERS.md, "Rooms and arrows". */

const rooms = [
  'kernel',
  'recording',
  'signal',
  'wood',
  'modal',
  'beam',
  'inference',
  'strength',
  'classroom',
  'intake',
  'report',
  'workspace',
];

/** What each room may import besides itself and the shared files of core/. */
const mayImport = {
  kernel: [],
  recording: ['kernel'],
  signal: ['recording', 'kernel'],
  wood: ['recording'],
  modal: ['signal', 'recording'],
  beam: [],
  inference: ['beam', 'modal', 'signal', 'wood', 'recording'],
  strength: ['inference', 'wood', 'recording'],
  classroom: [],
  intake: ['recording', 'wood'],
  report: ['recording', 'classroom'],
  workspace: [
    'report',
    'classroom',
    'intake',
    'strength',
    'inference',
    'beam',
    'modal',
    'signal',
    'wood',
    'recording',
  ],
};

const roomArrows = rooms.map((room) => {
  const forbidden = rooms.filter((other) => other !== room && !mayImport[room].includes(other));
  return {
    name: `arrows-of-${room}`,
    comment: `core/${room} may import: ${mayImport[room].join(', ') || 'no other room'}.`,
    severity: 'error',
    from: { path: `^core/${room}/` },
    to: { path: [`^core/(${forbidden.join('|')})/`, '^(host|electron|renderer|samples|bench|tests)/'] },
  };
});

module.exports = {
  forbidden: [
    ...roomArrows,
    {
      name: 'below-the-chain',
      comment: 'Only the workspace, the doors, tests and benches run the chain; rooms are below it.',
      severity: 'error',
      from: { path: '^core/(recording|signal|wood|modal|beam|inference|strength|classroom|intake|report)/' },
      to: { path: '^core/(assess|findings)\\.ts$' },
    },
    {
      name: 'through-the-door',
      comment:
        'A room is entered by its index.ts; the threads of a batch may take batch.ts, the window and the schemas contract.ts, visitFile.ts and the schemas of a calibration, which draw nothing else in.',
      severity: 'error',
      from: { path: '^(core|host|electron|renderer|samples)/([^/]+)/' },
      to: {
        path: '^core/[^/]+/',
        pathNot: [
          '^core/[^/]+/index\\.ts$',
          '^$1/$2/',
          '^core/workspace/(contract|batch)\\.ts$',
          '^core/recording/visitFile\\.ts$',
          '^core/strength/relation/(relationSpec|breakTestRow|calibrationDocument)\\.ts$',
          '^core/strength/breakTests/breakTestMapping\\.ts$',
        ],
      },
    },
    {
      name: 'window-knows-the-contract-only',
      severity: 'error',
      from: { path: '^renderer/' },
      to: { path: '^(core|host|electron|samples|bench|tests)/', pathNot: '^core/workspace/contract\\.ts$' },
    },
    {
      name: 'no-shell-in-core',
      comment: 'core/ runs anywhere: no Electron, no React, no plotting, no server.',
      severity: 'error',
      from: { path: '^core/' },
      to: {
        path: [
          'node_modules/(electron|react|react-dom|plotly\\.js|@mantine|zustand|commander|cli-progress)/',
          '^(node:)?(http|https|net|child_process)$',
        ],
      },
    },
    {
      name: 'database-in-the-workspace-only',
      severity: 'error',
      from: { path: '^(core|renderer|host|electron)/', pathNot: '^core/workspace/' },
      to: { path: 'node_modules/(better-sqlite3|kysely|pg|pg-boss)/' },
    },
    {
      name: 'no-circles',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'found',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
  ],
  options: {
    parser: 'swc',
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default'],
      extensions: ['.ts', '.tsx', '.js', '.cjs', '.mjs', '.json', '.css'],
    },
  },
};
