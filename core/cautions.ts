/**
 * What holds for every result of this program, whatever its numbers. The chain puts these into each
 * assessment; the window, the command line and the printed file show them. They defer to local codes and
 * licensed practice.
 */
export const CAUTIONS: readonly string[] = [
  'An estimate is not a clearance to climb.',
  'Vibration cannot rule out local decay at the ground line, however many modes are read; below the third mode least of all.',
  'Inspect before climbing: sound, bore and excavate as local practice asks.',
  'Keep electrical clearance: treat every conductor as live until it is proved dead and grounded.',
  'Local codes and the rules of the utility come before anything said here.',
  'A licensed engineer decides on replacement and on restoration.',
];
