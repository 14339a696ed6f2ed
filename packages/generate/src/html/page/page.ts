/** The script of the page: search, and the values of a payload in the picture and in the table. Runs in a browser. */
import { assemble, type Direction, type Station } from "byterail";
import { readPayload } from "./payload.js";
import { searchIn } from "./search.js";

const station = JSON.parse(document.getElementById("station")!.textContent!) as Station;
const layout = assemble(station);

for (const direction of ["inputs", "outputs"] as const satisfies Direction[]) {
  const section = document.getElementById(direction)!;
  const box = section.querySelector<HTMLElement>(".payload");
  if (!box) continue;
  const field = box.querySelector("textarea")!;
  const update = () => readPayload(layout[direction], section, field);
  field.addEventListener("input", update);
  box.querySelector("button")!.addEventListener("click", () => {
    field.value = "";
    update();
    field.focus();
  });
  section.querySelector(".picture")!.addEventListener("click", ({ target }) => {
    const name = (target as Element).closest<SVGElement>("[data-point]")?.dataset.point;
    if (name) location.hash = `${direction}-${name}`;
  });
  box.hidden = false;
  // A browser may keep what was in the field when the page is loaded again.
  if (field.value) update();
}

const search = document.getElementById("search") as HTMLInputElement;
const run = () => searchIn(document.querySelector("main")!, search.value, document.getElementById("found")!);
search.addEventListener("input", run);
document.getElementById("tools")!.hidden = false;
if (search.value) run();
