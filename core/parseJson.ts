/** Ours: no file of this program nests a third as deep. */
const DEEPEST = 64;

/**
 * JSON.parse for text that others wrote: refuses what is nested so deep that the code which walks it would run out of stack.
 * @throws SyntaxError where the text is no JSON, or too deep
 */
export function parseJson(text: string): unknown {
  if (findDepth(text) > DEEPEST) throw new SyntaxError(`nested deeper than ${DEEPEST} levels`);
  return JSON.parse(text);
}

/** The deepest nesting of brackets outside of strings, counted no further than needed. */
function findDepth(text: string): number {
  let depth = 0;
  let deepest = 0;
  let inString = false;
  for (let i = 0; i < text.length && deepest <= DEEPEST; i++) {
    const character = text.charCodeAt(i);
    if (inString) {
      if (character === BACKSLASH) i++;
      else if (character === QUOTE) inString = false;
    } else if (character === QUOTE) inString = true;
    else if (character === BRACKET || character === BRACE) deepest = Math.max(deepest, ++depth);
    else if (character === BRACKET + TO_CLOSING || character === BRACE + TO_CLOSING) depth--;
  }
  return deepest;
}

const QUOTE = '"'.charCodeAt(0);
const BACKSLASH = '\\'.charCodeAt(0);
const BRACKET = '['.charCodeAt(0);
const BRACE = '{'.charCodeAt(0);
/** A closing bracket comes two after its opening one in ASCII, both kinds. */
const TO_CLOSING = 2;
