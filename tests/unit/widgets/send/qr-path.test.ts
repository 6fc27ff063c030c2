import jsQR from 'jsqr'
import { expect, test } from 'vitest'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'
import { longestQr, qrPath, quietModules } from '../../../../src/widgets/send/qr-path.ts'

/** The path drawn on white, with the white around it, and read by another library. */
function decoded({ modules, path }: ReturnType<typeof qrPath>, pxPerModule = 3): string | undefined {
  const side = (modules + 2 * quietModules) * pxPerModule
  const pixels = new Uint8ClampedArray(4 * side * side).fill(255)
  for (const [, from, row, length] of path.matchAll(/M(\d+) (\d+)h(\d+)v1H\d+z/g))
    for (let y = 0; y < pxPerModule; y++)
      for (let x = 0; x < pxPerModule * Number(length); x++) {
        const left = (Number(from) + quietModules) * pxPerModule + x
        const top = (Number(row) + quietModules) * pxPerModule + y
        pixels.fill(0, 4 * (top * side + left), 4 * (top * side + left) + 3)
      }
  return jsQR(pixels, side, side, { inversionAttempts: 'dontInvert' })?.data
}

test('a code is read by another library as the text that it was made of, short or as long as is stated', () => {
  const random = seededRandom(4)
  const signs = 'abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.~?&=%#/:'
  for (const length of [1, 30, 120, 350, 600, longestQr]) {
    const text = Array.from({ length }, () => signs[Math.floor(random() * signs.length)]).join('')
    expect(decoded(qrPath(text)), String(length)).toBe(text)
  }
})

test('the longest code has at most 105 modules a side', () => {
  expect(qrPath('x'.repeat(longestQr)).modules).toBeLessThanOrEqual(105)
})
