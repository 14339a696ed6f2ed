/** Frames written in tests: hex as people copy it, with separators and comments. */
import { ByterailError, type Problem } from "byterail";
import { fromHex } from "byterail/frames";

const comment = /(?:#|\/\/).*$/;

/**
 * The bytes of a hex literal. Pairs may be parted by white space, `|`, `,`, `:` or `-` and may begin with `0x`; a comment
 * goes from `#` or `//` to the end of the line. A digit that stands alone is an error, not half of a byte.
 *
 * @example
 * ```ts
 * import { frameOf } from "@byterail/testkit";
 * frameOf(`
 *   03          // doorClosed, kegPresent
 *   60 36       // supply
 * | C1-02       // temperature
 * `); // → new Uint8Array([0x03, 0x60, 0x36, 0xc1, 0x02])
 * ```
 * @throws `ByterailError` `hex.syntax` for every group that is no whole bytes, with its line and column
 */
export function frameOf(text: string): Uint8Array {
  const problems: Problem[] = [];
  const lines = text.split(/\r?\n/);
  const groups = lines.flatMap((line, k) => groupsOf(line, lines.length > 1 ? `line ${k + 1}, ` : "", problems));
  if (problems.length > 0) throw new ByterailError(problems);
  return fromHex(groups.join(" "));
}

function groupsOf(line: string, where: string, problems: Problem[]): string[] {
  const found: string[] = [];
  for (const { 0: group, index } of line.replace(comment, "").matchAll(/[^\s|,:-]+/g)) {
    const digits = group.replace(/^0x/i, "");
    if (/^(?:[0-9a-f]{2})+$/i.test(digits)) found.push(digits);
    else problems.push({ code: "hex.syntax", path: `${where}column ${index + 1}`, message: messageFor(group, digits) });
  }
  return found;
}

function messageFor(group: string, digits: string): string {
  const wrong = /[^0-9a-f]/iu.exec(digits)?.[0];
  const shown = JSON.stringify(group.slice(0, 40));
  return wrong
    ? `${shown} is no hex: ${JSON.stringify(wrong)} is no hex digit`
    : `${shown} is no whole bytes: give both digits of each`;
}
