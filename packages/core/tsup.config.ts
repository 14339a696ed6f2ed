import { library } from "../../.ci/tsup.mjs";

export default library("src/index.ts", "src/schema.ts");
