/// <reference lib="dom" />
// In the page and in a worker of it; the page shows what both found. The control comes when it is asked for, since what it
// tries is complained of.
import { codeFromText } from "./codeFromText.js";
import { work } from "./work.js";

show("page", JSON.stringify(work()));
const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
worker.onmessage = ({ data: [id, text] }) => show(id, text);
worker.onerror = ({ message }) => show("worker", `failed: ${message}`);
const control = document.createElement("button");
control.textContent = "control";
control.onclick = () => {
  show("pageControl", codeFromText());
  worker.postMessage("control");
};
document.body.append(control);

function show(id: string, text: string): void {
  const element = document.createElement("pre");
  element.id = id;
  element.textContent = text;
  document.body.append(element);
}
