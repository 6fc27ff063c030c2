import { expect, test } from 'vitest'
import { joined } from '../../../src/tools/one-style-sheet.mjs'

test('what two sheets share stands once, in the order of the first; what the second has alone comes after it', () => {
  const shared = '@media (min-width:60rem){.a{color:red}.b{margin:0}}'
  expect(joined([`.a{color:ink}${shared}.c{top:0}`, `.d{left:0}.a{color:ink}${shared}.a{color:red}`])).toBe(
    `.a{color:ink}${shared}.c{top:0}.d{left:0}.a{color:red}`,
  )
})

test('a brace or a semicolon in a text or an address ends no rule', () => {
  const sheet = '.a:after{content:"} .b{;"}@font-face{font-family:F;src:url(/f;}.woff2)}'
  expect(joined([sheet, sheet])).toBe(sheet)
})
