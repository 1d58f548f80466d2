// Names: what a tag's code or a hand says, as names are looked up; the same letters are taken for each other as in waney.yard.names.

export const MARK = "WANEY:";
const LIKE: Record<string, string> = { I: "1", O: "0", S: "5", Z: "2" };

/** Without mark, dashes and spaces, in capitals: "WANEY:AB-12-P" and "ab 12 p" are both "AB12P". */
export function label(written: string): string {
  const bare = written.trim().toUpperCase();
  const name = bare.startsWith(MARK) ? bare.slice(MARK.length) : bare;
  return name.replace(/[\s-]/g, "").replace(/[IOSZ]/g, (letter) => LIKE[letter]!);
}

/** As it is printed: "AB-12-P". */
export function dashed(written: string): string {
  return label(written).replace(/^([A-Z]+)(\d+)(\w)$/, "$1-$2-$3");
}

const CHARACTERS = "0123456789ABCDEFGHJKLMNPRTUVWXY";
const FORM = /^([ABCDEFGHJKLMNPRTUVWXY]{1,4})(0|[1-9][0-9]{0,5})[0-9ABCDEFGHJKLMNPRTUVWXY]$/;

/** A name as a label: code, number, and the check character that belongs behind them (waney.yard.names says how that is made). */
export function nameOf(code: string, number: number): string {
  const body = `${code}${number}`;
  const sum = [...body].reverse().reduce((all, letter, place) => all + (place + 2) * CHARACTERS.indexOf(letter), 0);
  return body + CHARACTERS[(CHARACTERS.length - (sum % CHARACTERS.length)) % CHARACTERS.length]!;
}

/** Code and number of a name; null for what is none: by its form, or by its check character. */
export function partsOf(written: string): [string, number] | null {
  const name = label(written);
  const [, code, number] = FORM.exec(name) ?? [];
  return code && number && nameOf(code, Number(number)) === name ? [code, Number(number)] : null;
}

/** Whether it is a name at all. */
export function isName(written: string): boolean {
  return partsOf(written) !== null;
}

/** The one that bears a name. */
export function bearing<T extends { name: string }>(all: T[], written: string): T | undefined {
  const wanted = label(written);
  return wanted ? all.find((one) => label(one.name) === wanted) : undefined;
}
