// One seed for all properties, so that a run can be repeated. `BYTERAIL_SEED=$RANDOM npm test` looks elsewhere.

import fc from "fast-check";

fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(process.env.BYTERAIL_SEED ?? 1) });
