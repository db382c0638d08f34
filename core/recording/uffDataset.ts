/** How a dataset 58 stores its ordinate: the code of record 7, field 1, in words. */
export type UffOrdinate = 'real single' | 'real double' | 'complex single' | 'complex double';

export const UFF_ORDINATES: Readonly<Record<number, UffOrdinate>> = {
  2: 'real single',
  4: 'real double',
  5: 'complex single',
  6: 'complex double',
};

/** Kinds of data on an axis (record 8, field 1) that matter here. */
export const UFF_AXIS = { unknown: 0, general: 1, acceleration: 12, time: 17 } as const;
/** Kinds of function (record 6, field 1) that matter here. */
export const UFF_FUNCTION = { general: 0, timeResponse: 1 } as const;

/** One axis of a dataset 58: records 8 to 11. */
export interface UffAxis {
  /** Kind of data: 12 acceleration, 15 pressure, 17 time, 18 frequency, and others of the form. */
  readonly kind: number;
  /** Exponents of length, force and temperature in the unit. */
  readonly exponents: readonly [number, number, number];
  /** At most 20 characters; `NONE` where there is none. */
  readonly label: string;
  /** At most 20 characters, as the writer spelt it. */
  readonly unit: string;
}

/** One end of the measured path: the entity, node and direction of records 6, fields 5 to 10. */
interface UffPlace {
  readonly entity: string;
  readonly node: number;
  readonly direction: number;
}

/** One dataset 58 with an even abscissa, as the file holds it: function at a nodal degree of freedom. */
export interface UffDataset {
  /** The five lines of free text, without blanks at their ends. */
  readonly idLines: readonly string[];
  /** 0 general, 1 time response, 4 frequency response, and others of the form. */
  readonly functionKind: number;
  readonly functionId: number;
  readonly version: number;
  readonly loadCase: number;
  readonly response: UffPlace;
  readonly reference: UffPlace;
  readonly ordinateForm: UffOrdinate;
  readonly abscissaStart: number;
  readonly abscissaStep: number;
  readonly zValue: number;
  readonly abscissa: UffAxis;
  readonly ordinate: UffAxis;
  readonly denominator: UffAxis;
  readonly zAxis: UffAxis;
  /** Real values, or real and imaginary parts interleaved. */
  readonly values: Float64Array;
}
