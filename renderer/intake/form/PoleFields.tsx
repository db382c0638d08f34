import { SPECIES_CHOICES } from './choices.ts';
import { FormField } from './FormField.tsx';

/** The record of the pole. */
export function PoleFields() {
  return (
    <fieldset className="form-group">
      <legend>Pole</legend>
      <div className="form-grid">
        <FormField path="pole.id" label="Number" needed help="As on its tag." />
        <FormField path="pole.species" label="Species" needed choices={SPECIES_CHOICES} />
        <FormField
          path="pole.classCode"
          label="Class"
          help="H6 to H1, 1 to 10; for requirement and usual girth."
        />
        <FormField path="pole.length" label="Length" needed help="Whole, butt to tip." />
        <FormField path="pole.treatment" label="Treatment" />
        <FormField path="pole.setYear" label="Year set" />
        <FormField
          path="pole.buttToTag"
          label="Butt to tag"
          help="With the tag's height it gives the depth in the ground."
        />
        <FormField path="pole.latitude" label="Latitude" symbol="°" />
        <FormField path="pole.longitude" label="Longitude" symbol="°" />
      </div>
    </fieldset>
  );
}
