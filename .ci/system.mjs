// The programs that tests start: a C compiler and Python for generated code, a browser for pages.

import { existsSync } from "node:fs";
import { Failed, quietly } from "./process.mjs";

// Debian's package → a file that is there once it is installed.
const needed = {
  gcc: "/usr/bin/gcc",
  "libc6-dev": "/usr/include/stdint.h",
  python3: "/usr/bin/python3",
  chromium: "/usr/bin/chromium",
};

/** Install what is missing, by apt. Nothing is asked of the network when nothing is missing. */
export function installSystemPackages() {
  const missing = Object.keys(needed).filter((name) => !existsSync(needed[name]));
  if (missing.length === 0) return;
  if (!existsSync("/usr/bin/apt-get")) throw new Failed(`install by hand: ${missing.join(" ")}`);
  console.log(`installing ${missing.join(" ")} …`);
  const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
  quietly("apt-get", ["update", "-qq"], { env });
  quietly("apt-get", ["install", "-y", "-qq", "--no-install-recommends", ...missing], { env });
}
