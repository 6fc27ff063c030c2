import { generate } from 'lean-qr'

/**
 * Longest text for a QR code, characters. A code of so many has at most 105 modules a side (version 22 at the lowest level of
 * correction holds 1,003 bytes, ISO/IEC 18004); drawn 2.8 px and more wide on a narrow telephone, another one still reads it (common practice, no source).
 */
export const longestQr = 1000

/** White around the code, in modules: four, as ISO/IEC 18004 asks. */
export const quietModules = 4

/** A text as a QR code: modules a side without the white around it, and the dark ones as a path of unit squares, row by row. */
export function qrPath(text: string): { modules: number; path: string } {
  const code = generate(text)
  let path = ''
  for (let row = 0; row < code.size; row++) {
    for (let from = 0; from < code.size; from++) {
      if (!code.get(from, row)) continue
      let to = from
      while (code.get(to, row)) to++
      path += `M${from} ${row}h${to - from}v1H${from}z`
      from = to
    }
  }
  return { modules: code.size, path }
}
