/** The libraries by name, each loaded only in the process that measures it. */
import type { Peer } from "./peer.js";

/** In the order of the table. */
export const peers: Readonly<Record<string, () => Promise<Peer>>> = {
  structurae: async () => (await import("./interpreted.js")).structuraePeer,
  "@aksel/structjs": async () => (await import("./interpreted.js")).structjsPeer,
  "python-struct": async () => (await import("./interpreted.js")).pythonStructPeer,
  restructure: async () => (await import("./interpreted.js")).restructurePeer,
  "binary-layout": async () => (await import("./interpreted.js")).binaryLayoutPeer,
  "binary-parser": async () => (await import("./compiled.js")).binaryParserPeer,
  structly: async () => (await import("./compiled.js")).structlyPeer,
  "smart-buffer": async () => (await import("./cursors.js")).smartBufferPeer,
  iobuffer: async () => (await import("./cursors.js")).ioBufferPeer,
};
