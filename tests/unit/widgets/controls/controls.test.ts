import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { nearestIndex } from '../../../../src/widgets/controls/nearest-index.ts'

const root = join(import.meta.dirname, '../../../..')

test('a value off the list stands at its nearest neighbour, one beyond the ends at the end', () => {
  const values = [31.5, 63, 125, 250]
  expect(values.map((value) => nearestIndex(values, value))).toEqual([0, 1, 2, 3])
  expect([20, 90, 95, 1000].map((value) => nearestIndex(values, value))).toEqual([0, 1, 2, 3])
})

test('sliders and selects come from the kit: no figure writes its own', () => {
  const markup = globSync('src/**/*.{svelte,astro}', { cwd: root })
  const bare = markup.filter((file) => /type="range"|<select\b/.test(readFileSync(join(root, file), 'utf8')))
  expect(bare.sort()).toEqual(['Select', 'Slider', 'TypedSlider'].map((name) => `src/widgets/controls/${name}.svelte`))
})
