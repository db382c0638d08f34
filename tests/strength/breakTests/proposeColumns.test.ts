import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { proposeColumns } from '../../../core/strength/breakTests/proposeColumns.ts';
import { findUnit, QUANTITIES, type QuantityName } from '../../../core/strength/breakTests/quantities.ts';

const PROPOSED: readonly (readonly [header: string, field: string | null, unit: string | null])[] = [
  ['pole_id', 'poleId', null],
  ['Pole No.', 'poleId', null],
  ['Specimen ID', 'testId', null],
  ['Timber species', 'species', null],
  ['Preservative', 'treatment', null],
  ['Age (yr)', 'ageYears', 'years'],
  ['years_in_service', 'ageYears', 'years'],
  ['Overall length [ft]', 'lengthM', 'ft'],
  ['poleLengthM', 'lengthM', 'm'],
  ['Embedment depth, ft', 'settingDepthM', 'ft'],
  ['Circ. at ground-line (in)', 'groundlineCircumferenceM', 'in'],
  ['GL girth mm', 'groundlineCircumferenceM', 'mm'],
  ['groundline_circumference_in', 'groundlineCircumferenceM', 'in'],
  ['Diameter at ground line (mm)', 'groundlineDiameterM', 'mm'],
  ['Top circumference (cm)', 'tipCircumferenceM', 'cm'],
  ['Lever arm (m)', 'loadHeightM', 'm'],
  ['Height of load above ground line (m)', 'loadHeightM', 'm'],
  ['Load below tip (ft)', 'loadBelowTipM', 'ft'],
  ['Distance of load from tip [m]', 'loadBelowTipM', 'm'],
  ['Breaking load (kN)', 'breakLoadN', 'kN'],
  ['max_load_lbf', 'breakLoadN', 'lbf'],
  ['Ultimate load [kips]', 'breakLoadN', 'kip'],
  ['load_kN', 'breakLoadN', 'kN'],
  ['Failure height (in)', 'breakHeightM', 'in'],
  ['Circumference at break (in)', 'breakCircumferenceM', 'in'],
  ['Modulus of rupture [psi]', 'modulusOfRupturePa', 'psi'],
  ['MOR_MPa', 'modulusOfRupturePa', 'MPa'],
  ['Bending strength (N/mm²)', 'modulusOfRupturePa', 'MPa'],
  ['Rupture stress (MPa)', 'modulusOfRupturePa', 'MPa'],
  ['Modulus of elasticity (GPa)', 'modulusPa', 'GPa'],
  ["Young's modulus (10^6 psi)", 'modulusPa', '10^6 psi'],
  ['MOE, GPa', 'modulusPa', 'GPa'],
  ['E_gpa', 'modulusPa', 'GPa'],
  ['MOE error (%)', 'modulusErrorPercent', '%'],
  ['Groundline moment (kN·m)', 'groundlineMomentNm', 'kN·m'],
  ['moment_ft_lb', 'groundlineMomentNm', 'ft lbf'],
  ['Density (kg per m3)', 'densityKgPerM3', 'kg/m3'],
  ['density_kg_per_m3', 'densityKgPerM3', 'kg/m3'],
  ['f1', 'frequency1Hz', 'Hz'],
  ['2nd natural frequency (Hz)', 'frequency2Hz', 'Hz'],
  ['Moisture content (%)', 'moisturePercent', '%'],
  ['Support span (mm)', 'spanM', 'mm'],
  ['Test type', 'testKind', null],
  ['Height of failure above GL [ft]', 'breakHeightM', 'ft'],
  ['Pole tag', 'poleId', null],
  ['Spec. No.', 'testId', null],
  ['Preserv.', 'treatment', null],
  ['Age at test (years)', 'ageYears', 'years'],
  ['Total lgth (ft)', 'lengthM', 'ft'],
  ['Butt set (ft)', 'settingDepthM', 'ft'],
  ['Planting depth (metres)', 'settingDepthM', 'm'],
  ['Circ @ G/L (in)', 'groundlineCircumferenceM', 'in'],
  ['GL circumference (in)', 'groundlineCircumferenceM', 'in'],
  ['Circumference at G.L. (in.)', 'groundlineCircumferenceM', 'in'],
  ['Girth at ground level (millimetres)', 'groundlineCircumferenceM', 'mm'],
  ['Pull ht above GL (ft)', 'loadHeightM', 'ft'],
  ['Height of load application (m)', 'loadHeightM', 'm'],
  ['Break load (lbf)', 'breakLoadN', 'lbf'],
  ['Ult. load (lbs)', 'breakLoadN', 'lbf'],
  ['Failing load (1000 lb)', 'breakLoadN', 'kip'],
  ['Brk ht (in)', 'breakHeightM', 'in'],
  ['Ground line moment', 'groundlineMomentNm', null],
  ['G/L moment (1000 ft-lb)', 'groundlineMomentNm', 'kip ft'],
  ['Moment at ground level (kN.m)', 'groundlineMomentNm', 'kN·m'],
  ['MOR (psi)', 'modulusOfRupturePa', 'psi'],
  ['M.O.R. at GL (psi)', 'modulusOfRupturePa', 'psi'],
  ['Mod. of rupture (1000 psi)', 'modulusOfRupturePa', 'ksi'],
  ['Stiffness E (10^6 psi)', 'modulusPa', '10^6 psi'],
  ['MOE (×10⁶ psi)', 'modulusPa', '10^6 psi'],
  ['Mod. of elasticity (million psi)', 'modulusPa', '10^6 psi'],
  ['Fundamental frequency (Hz)', 'frequency1Hz', 'Hz'],
  ['MC%', 'moisturePercent', '%'],
  // neither is what it comes near to
  ['Stiffness (kN/m)', null, null],
  ['Basic density (kg/m3)', null, null],
  ['Failure mode', null, null],
  ['Distance of break from GL (in)', null, null],
  ['remarks', null, null],
  ['constructor', null, null],
  ['', null, null],
];

describe('proposeColumns', () => {
  it.each(PROPOSED)('"%s" is %s in %s', (header, field, unit) => {
    expect(proposeColumns([header])[0]).toEqual({ header, field, unit, isCertain: field !== null });
  });

  it('leaves the unit open where the header names none, or none of that quantity', () => {
    expect(proposeColumns(['Breaking load', 'MOE (mm)']).map(({ field, unit }) => [field, unit])).toEqual([
      ['breakLoadN', null],
      ['modulusPa', null],
    ]);
  });

  it('says where it understood a part of the header only', () => {
    const [column] = proposeColumns(['Breaking load as read from cell 3 (kN)']);
    expect(column).toMatchObject({ field: 'breakLoadN', unit: 'kN', isCertain: false });
    // at the moment of failure, or at its place?
    const [stress] = proposeColumns(['Fiber stress at failure (psi)']);
    expect(stress).toMatchObject({ field: 'modulusOfRupturePa', unit: 'psi', isCertain: false });
  });

  it.each([
    'Pull ht. from butt (ft)',
    'Perimeter at 6 ft from butt',
    'Butt circumference (in)',
    'MOR @ break (psi)',
  ])('leaves "%s" to the person: it is not at ground line, or not above it', (header) => {
    expect(proposeColumns([header])[0]!.field).toBeNull();
  });

  it('takes the stress at ground line where that at the break stands before it', () => {
    const fields = proposeColumns(['MOR @ break (psi)', 'MOR @ GL (psi)']).map(({ field }) => field);
    expect(fields).toEqual([null, 'modulusOfRupturePa']);
  });

  it('gives each field once: the fuller name, then the first', () => {
    const fields = proposeColumns([
      'circumference (m)',
      'groundline circumference (m)',
      'load (N)',
      'load (N)',
    ]).map(({ field }) => field);
    expect(fields).toEqual([null, 'groundlineCircumferenceM', 'breakLoadN', null]);
  });

  it('answers any header, each field at most once', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ maxLength: 40 }), { maxLength: 12 }), (header) => {
        const columns = proposeColumns(header);
        expect(columns.map((column) => column.header)).toEqual(header);
        const fields = columns.flatMap(({ field }) => field ?? []);
        expect(new Set(fields).size).toBe(fields.length);
      }),
    );
  });
});

describe('units', () => {
  it('have the sizes of their definitions (inch 25.4 mm, pound-force 4.4482216152605 N, exact; NIST SP 811, from memory)', () => {
    const size = (quantity: QuantityName, text: string) => findUnit(quantity, text)!.size;
    expect(size('length', 'in')).toBe(0.0254);
    expect(size('length', 'ft')).toBe(0.3048);
    expect(size('force', 'kips')).toBeCloseTo(4448.2216152605, 9);
    expect(size('stress', 'psi')).toBeCloseTo(6894.757293168, 8);
    expect(size('stress', 'ksi')).toBeCloseTo(6.894757293e6, 2);
    expect(size('moment', 'ft-lb')).toBeCloseTo(1.3558179483314, 12);
    expect(size('moment', 'in-lbf')).toBeCloseTo(0.1129848290276, 12);
    expect(size('density', 'lb/ft³')).toBeCloseTo(16.01846337396, 9);
  });

  it('are found by their own names', () => {
    for (const [quantity, { units }] of Object.entries(QUANTITIES)) {
      for (const { name, size } of units) expect(findUnit(quantity as QuantityName, name)!.size).toBe(size);
    }
    expect(findUnit('force', 'mm')).toBeNull();
    expect(findUnit('length', '')).toBeNull();
  });
});
