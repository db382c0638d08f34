import { SOIL_CHOICES } from './choices.ts';
import { FormField } from './FormField.tsx';
import { RowGroup } from './RowGroup.tsx';

/** What the crew measured at the visit, and what hangs on the pole. */
export function MeasuredFields() {
  return (
    <>
      <fieldset className="form-group">
        <legend>Measured</legend>
        <div className="form-grid">
          <FormField path="measured.date" label="Date" type="date" needed />
          <FormField path="measured.tagHeight" label="Tag above ground" />
          <FormField path="measured.soil" label="Soil" choices={SOIL_CHOICES} />
          <FormField path="measured.sensorHeight" label="Sensor height" needed help="Above ground." />
          <FormField path="measured.sensorMass" label="Sensor mass" help="With its strap; none given: 0." />
          <FormField path="measured.moisture" label="Moisture" symbol="%" help="Of the dry mass." />
          <FormField path="measured.temperature" label="Temperature" />
          <FormField
            path="measured.lineAzimuth"
            label="Direction of the line"
            symbol="°"
            help="Clockwise from north."
          />
          <FormField path="measured.topCircumference" label="Circumference at tip" />
          <FormField path="measured.density" label="Density" help="None given: from species and moisture." />
          <FormField
            path="measured.shellThickness"
            label="Least sound shell"
            help="At ground line, from boring."
          />
        </div>
      </fieldset>
      <RowGroup
        list="circumferences"
        legend="Circumferences"
        adding="Add a circumference"
        fields={[
          { key: 'height', label: 'Height', needed: true },
          { key: 'circumference', label: 'Circumference', needed: true },
        ]}
      />
      <RowGroup
        list="cables"
        legend="Cables"
        adding="Add a cable"
        fields={[
          { key: 'kind', label: 'Kind', needed: true },
          { key: 'count', label: 'How many', needed: true },
          { key: 'height', label: 'Height', needed: true },
          { key: 'azimuth', label: 'Direction', needed: true, symbol: '°' },
          { key: 'stiffness', label: 'Stiffness along' },
          { key: 'mass', label: 'Mass that moves' },
        ]}
      />
      <RowGroup
        list="attachments"
        legend="Fixed on the pole"
        adding="Add a transformer, crossarm or lamp"
        fields={[
          { key: 'kind', label: 'What' },
          { key: 'height', label: 'Height', needed: true },
          { key: 'mass', label: 'Mass', needed: true },
        ]}
      />
    </>
  );
}
