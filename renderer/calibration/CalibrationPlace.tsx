import './calibration.css';

/** The place of the R&D engineer: break tests, relations, thresholds, versions. */
export default function CalibrationPlace() {
  return (
    <main className="place">
      <h1>Calibration</h1>
    </main>
  );
}
