import { expect, test } from 'vitest'
import { embedCode } from '../../../../src/widgets/send/embed-code.ts'

const heights = [[900, 1000], [1400, 1100], [700]]

test('the code is HTML whose height steps with the width of its place, tallest measured first', () => {
  const code = embedCode('https://site.example/embed/x/?a=1&b=2#with=1.AB', 'A “wave”', heights)
  expect(code).toContain('src="https://site.example/embed/x/?a=1&amp;b=2#with=1.AB"')
  expect(code).toContain('height="1024"')
  expect(code).toContain(
    'height: calc(724px + clamp(0px, (960px - 100cqw) * 9999, 700px) - clamp(0px, (480.5px - 100cqw) * 9999, 400px))',
  )
  expect(code).not.toContain('<script')
})

test('a title with marks of HTML stays a title', () => {
  const code = embedCode('https://site.example/', '"><script>alert(1)</script>', heights)
  expect(code).toContain('title="&quot;&gt;&lt;script&gt;alert(1)&lt;/script&gt;"')
})
