/** A number for a sentence, whole and with a true minus sign; zero is never signed. */
export function wholeText(value: number): string {
  const rounded = Math.round(value)
  return String(rounded === 0 ? 0 : rounded).replace('-', '−')
}
