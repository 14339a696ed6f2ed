/** Whether this environment makes code from text: the control without which a policy that is not in force would pass unseen. */
export function codeFromText(): "made" | "refused" {
  try {
    return new Function('return "made"')() as "made";
  } catch (error) {
    if (error instanceof EvalError) return "refused";
    throw error;
  }
}
