import fc from 'fast-check';
import { expect, it } from 'vitest';
import { markup, writeCssString } from '../../core/report/markup.ts';

it('escapes the five characters that HTML gives a meaning (HTML Living Standard, 13.1.2)', () => {
  expect(markup`<p title="${'"\''}">${'<b> & </b>'}</p>`.html).toBe(
    '<p title="&quot;&#39;">&lt;b&gt; &amp; &lt;/b&gt;</p>',
  );
});

it('keeps markup within markup, joins lists and leaves out what is not there', () => {
  expect(markup`<ul>${[markup`<li>${1}</li>`, null, false, '<']}</ul>`.html).toBe('<ul><li>1</li>&lt;</ul>');
});

it('replaces control characters and halves of surrogate pairs', () => {
  expect(markup`${'a\u0000b\ud800c\n'}`.html).toBe('a\ufffdb\ufffdc\n');
});

it('lets no text leave the markup around it', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      expect(markup`${text}`.html).not.toMatch(/[<>"']/);
    }),
  );
});

it('writes CSS strings that end neither themselves nor their style element', () => {
  expect(writeCssString('A-1 "\\</style>\n').html).toBe('"A-1 \\22 \\5c \\3c \\2f style\\3e \\a "');
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      expect(writeCssString(text).html.slice(1, -1)).not.toMatch(/["<>\n]/);
    }),
  );
});
