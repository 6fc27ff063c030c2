/**
 * How a language prints a number that a program has rounded: '-3.20' → '−3,20' by the browser's own format, all digits kept, with a
 * true minus sign and without marks between thousands, so that a field can show it too. What is no plain number stays.
 *
 * @param language  a code as browsers know it, 'es'
 */
export function digitsIn(language: string): (text: string) => string {
  const formats: Intl.NumberFormat[] = []
  const withDigits = (count: number) =>
    new Intl.NumberFormat(language, {
      useGrouping: false,
      minimumFractionDigits: count,
      maximumFractionDigits: count,
    })
  return (text) => {
    const [, sign = '', number, fraction = ''] = /^(-?)(\d+(?:\.(\d+))?)$/.exec(text) ?? []
    if (number === undefined) return text
    formats[fraction.length] ??= withDigits(fraction.length)
    return `${sign && '−'}${formats[fraction.length]?.format(Number(number))}`
  }
}
