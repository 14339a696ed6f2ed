/**
 * The usual cautions wherever outputs are forced or a loop is driven. They remind; the site's procedure, local codes and
 * licensed practice govern.
 */

/** The cautions in full, each one sentence or two. */
export const cautions: readonly string[] = [
  "This sheet is no permit. The site's lockout procedure and a competent person govern (OSHA 29 CFR 1910.147, ISO 14118).",
  "An output that is off is no isolation: shut off and lock air and power.",
  "Relieve stored energy before hands go near (ISO 4414).",
  "Double-solenoid valves stay where they are on loss of power.",
  "Force one point at a time, with the machine in view. Record each force, and remove it.",
  "Know what the outputs do when the network is lost before forcing any.",
  "Restore air gradually.",
  "This map is no safety function (ISO 13849-1, IEC 60204-1).",
  "Local codes and licensed practice come first.",
];

/** What stands wherever an output is about to be driven. */
export const driveCaution =
  "Driving an output may move the machine: one at a time, machine in view, under the site's procedure.";

/** What stands wherever a force is released. */
export const releaseCaution =
  "Releasing hands the output back to the program's value of that moment, and may move the machine.";
