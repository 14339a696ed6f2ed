import { work } from "./work.js";

console.log(JSON.stringify(work()));
