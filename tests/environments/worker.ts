import { work } from "./work.js";

postMessage(JSON.stringify(work()));
