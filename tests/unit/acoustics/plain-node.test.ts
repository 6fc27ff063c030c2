import { execFileSync } from 'node:child_process'
import { join } from 'node:path'
import { expect, test } from 'vitest'

test('the acoustics module runs in plain Node, without a build', () => {
  const module = join(import.meta.dirname, '../../../src/acoustics/index.ts')
  const script = `import(${JSON.stringify(module)}).then((a) => console.log(a.thirdOctaveBands(25, 20000).length, typeof a.spherePiston))`
  const output = execFileSync('node', ['--no-warnings', '-e', script], { encoding: 'utf8' })
  expect(output.trim()).toBe('30 function')
})
