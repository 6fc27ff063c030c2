/** So much of what somebody wrote is told back to them, characters. */
const told = 24

/** A text from outside as it stands in a sentence of ours: only its beginning where it is long. */
export const shortened = (text: string): string =>
  text.length > told ? `${text.slice(0, told).toWellFormed()}…` : text
