/** Cautions where bytes are made that drive outputs. */

/** One line, for the terminal. */
export const caution =
  "Caution: outputs move machines. Follow the site's procedure and local codes; this is no safety function.";

/** What `--help` says. */
export const cautions = `
Cautions. Encoded outputs move machines once something sends them.
  The site's lockout procedure and a competent person govern; local codes and licensed practice come first.
  An output that is off is no isolation: shut off and lock air and power, relieve stored energy.
  Double-solenoid valves stay where they are on loss of power.
  Force one point at a time with the machine in view; record each force and remove it.
  Know what the outputs do when the network is lost before forcing any. Restore air gradually.
  Neither this command nor the map is a safety function.`;
