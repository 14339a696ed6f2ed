/** Where texts go: results to standard output, problems and cautions to standard error. */

/** Prints a result. */
export function print(text: string): void {
  process.stdout.write(text);
}

/** Prints what is no result. */
export function printError(text: string): void {
  process.stderr.write(text);
}

/** Prints data for machines. Only for data without −0, which `JSON.stringify` loses. */
export function printJson(data: unknown): void {
  print(`${JSON.stringify(data, null, 2)}\n`);
}

/** A reader that has seen enough, such as `head`, closes the pipe; that is no error. */
export function survivesClosedPipes(): void {
  for (const stream of [process.stdout, process.stderr])
    stream.on("error", (error: NodeJS.ErrnoException) => {
      if (error.code !== "EPIPE") throw error;
    });
}
