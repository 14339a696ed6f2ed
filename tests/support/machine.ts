/** What was measured on. */
import { cpus, loadavg } from "node:os";

/** Processor, versions, date and load in one line. */
export function machineLine(): string {
  const [cpu] = cpus();
  const load = loadavg().map((number) => number.toFixed(1));
  const date = new Date().toISOString().slice(0, 10);
  return `${cpu?.model.trim()}, ${cpus().length} cores, ${process.platform} ${process.arch}, Node ${process.versions.node}, V8 ${process.versions.v8}, ${date}; load average ${load.join(" ")}`;
}
