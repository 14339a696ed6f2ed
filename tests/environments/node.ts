import { codeFromText } from "./codeFromText.js";
import { work } from "./work.js";

console.log(JSON.stringify({ ...work(), codeFromText: codeFromText() }));
