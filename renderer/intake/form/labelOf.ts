/** Names of answers where they stand alone, by the last part of their path. */
const NAMES: Readonly<Record<string, string>> = {
  id: 'Number',
  species: 'Species',
  treatment: 'Treatment',
  classCode: 'Class',
  length: 'Length',
  setYear: 'Year set',
  buttToTag: 'Butt to tag',
  latitude: 'Latitude',
  longitude: 'Longitude',
  date: 'Date',
  topCircumference: 'Circumference at tip',
  tagHeight: 'Tag above ground',
  sensorHeight: 'Sensor height',
  sensorMass: 'Sensor mass',
  soil: 'Soil',
  moisture: 'Moisture',
  temperature: 'Temperature',
  lineAzimuth: 'Direction of the line',
  density: 'Density',
  shellThickness: 'Least sound shell',
  circumference: 'Circumference',
  circumferences: 'Circumferences',
  cables: 'Cables',
  attachments: 'Fixed on the pole',
  recordings: 'Recordings',
  channels: 'Channel',
  kind: 'Kind',
  count: 'How many',
  height: 'Height',
  azimuth: 'Direction',
  stiffness: 'Stiffness',
  mass: 'Mass',
  exciter: 'Struck by',
  strikeHeight: 'Height of the blow',
  strikeAzimuth: 'Direction of the blow',
  fullScale: 'Full scale',
  corner: 'Corner',
  visit: 'Visit file',
};

const LISTS = ['circumferences', 'cables', 'attachments'];

/** An answer by its path, as people call it: `Full scale, recording 1, channel 2`. */
export function labelOf(path: string): string {
  const parts = path.split('.');
  const last = parts.at(-1)!;
  if (parts[0] === 'recordings' && parts.length > 1) {
    const recording = `recording ${Number(parts[1]) + 1}`;
    if (parts.length === 2) return `Recording ${Number(parts[1]) + 1}`;
    const channel = parts[2] === 'channels' ? `, channel ${Number(parts[3]) + 1}` : '';
    return `${NAMES[last] ?? 'Channel'}, ${recording}${channel}`;
  }
  if (LISTS.includes(parts[0]!) && parts.length > 1) {
    return `${NAMES[last] ?? last}, row ${Number(parts[1]) + 1} of ${NAMES[parts[0]!]!.toLowerCase()}`;
  }
  return NAMES[last] ?? last;
}
