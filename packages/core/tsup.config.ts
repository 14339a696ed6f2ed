import { library } from "../../.ci/tsup.mjs";

export default library("src/index.ts", "src/frames.ts", "src/map.ts", "src/schema.ts");
