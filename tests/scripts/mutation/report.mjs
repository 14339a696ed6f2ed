// Stryker's JSON report as a row of figures and a list of survivors.

/** `| piece | mutants | killed | timeout | survived | no test | score |`, of the mutants that compile and are not ignored. */
export function scoreRow(name, { files }) {
  const count = (status) =>
    Object.values(files).flatMap(({ mutants }) => mutants.filter((mutant) => mutant.status === status)).length;
  const [killed, timeout, survived, noTest] = ["Killed", "Timeout", "Survived", "NoCoverage"].map(count);
  const all = killed + timeout + survived + noTest;
  const score = ((100 * (killed + timeout)) / all).toFixed(1);
  return `| ${name} | ${all} | ${killed} | ${timeout} | ${survived} | ${noTest} | ${score} % |`;
}

/** One line a survivor: where, what was changed, into what. */
export function survivorLines({ files }) {
  return Object.entries(files).flatMap(([file, { source, mutants }]) => {
    const lines = source.split("\n");
    return mutants
      .filter(({ status }) => status === "Survived" || status === "NoCoverage")
      .sort((a, b) => a.location.start.line - b.location.start.line)
      .map(({ location: { start, end }, mutatorName, replacement, status }) => {
        const [first] = lines[start.line - 1].slice(start.column - 1).split("\n");
        const original = start.line === end.line ? first.slice(0, end.column - start.column) : `${first} …`;
        const mark = status === "NoCoverage" ? " (no test)" : "";
        return `${file}:${start.line}:${start.column} ${mutatorName}${mark}  ${original}  →  ${replacement.replaceAll(/\s+/g, " ")}`;
      });
  });
}
