/** A diagnosis, as a page that a technician can follow: what is wrong, what would explain it, what to look at next. */
import type { Diagnosis, Explanation, JudgedFact, Operation } from "@byterail/commissioning";
import { printable } from "./printable.js";
import type { Colours } from "./screen.js";
import { type Column, tableText } from "./table.js";
import { wrapped } from "./wrap.js";

/** Writes a diagnosis, with at most so many answers. */
export function diagnosisText(diagnosis: Diagnosis, most: number, width: number, colours: Colours): string {
  const { facts, explanations, more, nextObservation, says } = diagnosis;
  const wrong = facts.filter(({ right }) => !right);
  const shown = explanations.slice(0, most);
  const hidden = explanations.length - shown.length + more;
  const parts = [
    wrapped(says, width),
    ...(wrong.length > 0
      ? [`${colours.bold("What is wrong as described")}\n${tableText(columns, wrong.map(factRow), width, colours)}`]
      : []),
    ...shown.map((explanation, k) => answerText(explanation, k + 1, explanations, wrong.length, width, colours)),
    ...(hidden > 0
      ? [
          wrapped(
            `${hidden} more ${hidden === 1 ? "answer is" : "answers are"} not shown; --limit shows more of them.`,
            width,
          ),
        ]
      : []),
    ...(nextObservation
      ? [`${colours.bold("What to look at next")}\n${wrapped(printable(nextObservation.says), width)}`]
      : []),
  ];
  return `${parts.join("\n\n")}\n`;
}

const columns: readonly Column[] = [
  { title: "Observation", align: "right" },
  { title: "Point", room: "wrapped" },
  { title: "Known", align: "right" },
  { title: "Read", align: "right" },
  { title: "Unit" },
];

function factRow({ observation, direction, point, known, within, unit, read }: JudgedFact): string[] {
  return [
    String(observation + 1),
    point ?? `length of the ${direction}, bytes`,
    within > 0 ? `${known} ± ${short(within)}` : String(known),
    read === null ? "beyond the frame" : short(read),
    printable(unit ?? ""),
  ];
}

function answerText(
  { rank, parts, change, explains, unexplained }: Explanation,
  answer: number,
  all: readonly Explanation[],
  wrong: number,
  width: number,
  colours: Colours,
): string {
  const tied = all.filter((each) => each.rank === rank).length > 1 ? `, tied on rank ${rank}` : "";
  const title = colours.bold(`Answer ${answer}${tied}: explains ${explains.length} of ${wrong}`);
  const left = unexplained.length > 0 ? [`Leaves ${unexplained.length} unexplained.`] : [];
  const changes = change?.map(operationText) ?? [];
  const lines = [
    ...parts.map(({ says }) => printable(says)),
    ...left,
    ...(changes.length > mostChanges
      ? [`Change: ${changes.length} places of the description; --json lists them.`]
      : changes.map((each) => `Change: ${each}`)),
    ...(change ? [] : ["Change: none of the description."]),
  ];
  return [title, ...lines.map((line) => `  ${wrapped(line, width, "  ").replace(/\n {2}/g, "\n    ")}`)].join("\n");
}

const mostChanges = 4;

function operationText(operation: Operation): string {
  if (operation.op === "move") return printable(`${operation.from} goes to ${operation.path}`);
  if (operation.op === "remove") return printable(`${operation.path} goes`);
  return printable(
    `${operation.path} ${operation.op === "add" ? "comes in, as" : "becomes"} ${JSON.stringify(operation.value)}`,
  );
}

function short(value: boolean | number | string): string {
  return typeof value === "number" ? String(Number(value.toPrecision(6))) : String(value);
}
