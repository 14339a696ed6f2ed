import { codeFromText } from "./codeFromText.js";
import { work } from "./work.js";

postMessage(["worker", JSON.stringify(work())]);
addEventListener("message", () => postMessage(["workerControl", codeFromText()]));
