import { library } from "../../.ci/tsup.mjs";

// `using` needs the types of Symbol.dispose, which the library of ES2022 has not; the declarations bring them along.
export default { ...library("src/index.ts"), dts: { banner: '/// <reference lib="esnext.disposable" />' } };
