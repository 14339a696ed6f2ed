import { forNode } from "../../.ci/tsup.mjs";

// The shebang is the first line of src/byterail.ts: it belongs to that entry alone.
export default forNode("src/byterail.ts");
