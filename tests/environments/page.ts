/// <reference lib="dom" />
// In the page and in a worker of it; the page shows what both found.
import { work } from "./work.js";

show("page", JSON.stringify(work()));
const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
worker.onmessage = ({ data }) => show("worker", String(data));
worker.onerror = ({ message }) => show("worker", `failed: ${message}`);

function show(id: string, text: string): void {
  const element = document.createElement("pre");
  element.id = id;
  element.textContent = text;
  document.body.append(element);
}
