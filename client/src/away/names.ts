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
const FORM = /^[ABCDEFGHJKLMNPRTUVWXY]{1,4}(0|[1-9][0-9]{0,5})[0-9ABCDEFGHJKLMNPRTUVWXY]$/;

/** Whether it is a name at all: its form, and its check character (waney.yard.names says how that is made). */
export function isName(written: string): boolean {
  const name = label(written);
  const sum = [...name].reverse().reduce((all, letter, place) => all + (place + 1) * CHARACTERS.indexOf(letter), 0);
  return FORM.test(name) && sum % CHARACTERS.length === 0;
}

/** The one that bears a name. */
export function bearing<T extends { name: string }>(all: T[], written: string): T | undefined {
  const wanted = label(written);
  return wanted ? all.find((one) => label(one.name) === wanted) : undefined;
}
