/** A header cell taken apart: its words, with synonyms brought together, and the unit it may end in. */
export type HeaderWords = {
  readonly words: readonly string[];
  /** In brackets, for instance `kN`; null without brackets. */
  readonly bracketed: string | null;
};

const SYNONYMS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    girth: 'circumference',
    circ: 'circumference',
    circum: 'circumference',
    circumf: 'circumference',
    perimeter: 'circumference',
    dia: 'diameter',
    diam: 'diameter',
    gl: 'groundline',
    breaking: 'break',
    brk: 'break',
    breaks: 'break',
    broken: 'break',
    failure: 'break',
    failing: 'break',
    collapse: 'break',
    fracture: 'break',
    maximum: 'max',
    peak: 'max',
    ultimate: 'max',
    ult: 'max',
    fiber: 'fibre',
    top: 'tip',
    ht: 'height',
    hgt: 'height',
    lgth: 'length',
    dyn: 'dynamic',
    std: 'standard',
    preserv: 'preservative',
    number: 'id',
    no: 'id',
    nr: 'id',
    num: 'id',
    name: 'id',
    freq: 'frequency',
    frequencies: 'frequency',
    first: '1',
    second: '2',
    third: '3',
    '1st': '1',
    '2nd': '2',
    '3rd': '3',
    applied: 'load',
    loading: 'load',
    pull: 'load',
    application: '',
    years: 'year',
    yrs: 'year',
    youngs: 'young',
    measured: '',
    at: '',
    of: '',
    the: '',
    to: '',
    above: '',
  }),
);

/** Takes a header cell apart. `Circ. at ground-line [in]`: words `circumference groundline`, bracketed `in`. */
export function readHeader(header: string): HeaderWords {
  const bracket = /^(.*?)\s*[[(]([^\])]*)[\])]\s*$/.exec(header.trim());
  const label = (bracket ? bracket[1]! : header)
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/\b([a-z])\.(?=[a-z]\b)/g, '$1')
    .replace(/\bg\/l\b/g, 'gl')
    .replace(/\bmod\b/g, 'modulus')
    .replace(/young['’]s/g, 'young')
    .replace(/ground[\s_-]?(line|level)/g, ' groundline ')
    .replace(/modulus\.? of rupture/g, 'mor')
    .replace(/rupture/g, (word, _at, whole) => (/(modulus|strength)/.test(whole) ? word : 'break'))
    .replace(/%/g, ' % ');
  const words = label
    .split(/[^a-z0-9%]+/)
    .map((word) => SYNONYMS.get(word) ?? word)
    .filter((word) => word !== '');
  return {
    words: words.filter((word, i) => words.indexOf(word) === i),
    bracketed: bracket ? bracket[2]!.trim() : null,
  };
}
