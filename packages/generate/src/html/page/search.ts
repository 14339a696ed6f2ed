/** The search: rows of the tables that do not match go away, blocks of the pictures that do not match fade. */

/** Shows what matches every word of a text, in any order and whatever the case, and tells how many points do. */
export function searchIn(main: HTMLElement, text: string, told: HTMLElement): void {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  let found = 0;
  for (const section of main.querySelectorAll("section")) {
    const matching = new Set<string>();
    for (const row of section.querySelectorAll<HTMLTableRowElement>("tbody tr")) {
      // What a row says without its reading, kept at the first search.
      row.dataset.words ??= Array.from(row.cells, (cell) => (cell.dataset.of ? "" : cell.textContent))
        .join(" ")
        .toLowerCase();
      const matches = words.every((word) => row.dataset.words!.includes(word));
      row.hidden = !matches;
      if (matches && row.dataset.point) matching.add(row.dataset.point);
    }
    found += matching.size;
    for (const block of section.querySelectorAll<SVGElement>("g[data-point]")) {
      const matches = matching.has(block.dataset.point!);
      block.classList.toggle("faint", !matches);
      block.classList.toggle("found", matches && words.length > 0);
    }
  }
  told.textContent =
    words.length === 0
      ? ""
      : found === 0
        ? "No point matches."
        : `${found} ${found === 1 ? "point matches" : "points match"}.`;
}
