/** Names in little room: lines of a few characters, cut in the middle, where names of a family differ the least. */

/** A text of at most `most` characters; what is too long loses its middle. */
export function shortened(text: string, most: number): string {
  const signs = [...text];
  if (signs.length <= most) return text;
  if (most < 2) return signs.slice(0, most).join("");
  const tail = Math.floor((most - 1) / 2);
  return `${signs.slice(0, most - 1 - tail).join("")}…${tail ? signs.slice(-tail).join("") : ""}`;
}

/** A name in one line or two of at most `most` characters, parted before a capital, a digit or after an underscore if it can be. */
export function twoLines(name: string, most: number): readonly string[] {
  if (name.length <= most) return [name];
  const seams = [...name.matchAll(/(?<=[a-z0-9])(?=[A-Z])|(?<=_)|(?<=[A-Za-z])(?=\d)/g)].map(({ index }) => index);
  const seam = seams.filter((at) => at <= most && name.length - at <= most).at(-1);
  const at = seam ?? most;
  return [name.slice(0, at), shortened(name.slice(at), most)];
}
