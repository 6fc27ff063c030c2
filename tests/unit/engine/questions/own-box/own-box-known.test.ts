import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { ownBoxBand, ownBoxKnown } from '../../../../../src/engine/questions/own-box/own-box.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'

const gear = join(import.meta.dirname, '../../../../../content/gear/compact-two-way.json')
const rig = JSON.parse(readFileSync(gear, 'utf8'))
const [cabinet] = rig.cabinets

test('what is not solved yet is the closed form', () => {
  const { bands } = ownBoxKnown({ box: { ...cabinet, widthM: 0.41 } })
  expect(bands.every(({ model, estimatedErrorDb }) => model === 'closed-form' && estimatedErrorDb === null)).toBe(true)
  const band = ownBoxBand({ box: { ...cabinet, widthM: 0.41 }, nominalHz: 500, solved: false })
  expect(bands.find(({ nominalHz }) => nominalHz === 500)).toEqual(band)
})

test('read from its tables a box is what it is solved on the spot', async () => {
  await loadSolvedRig({ name: rig.name, cabinets: rig.cabinets })
  const { bands } = ownBoxKnown({ box: cabinet })
  expect(bands.every(({ model }) => model === 'boundary-elements')).toBe(true)
  for (const nominalHz of [63, 250, 630, 1000]) {
    const known = bands.find((band) => band.nominalHz === nominalHz)
    const solved = ownBoxBand({ box: cabinet, nominalHz, solved: true })
    // 0.2 dB: tables are interpolated within 0.1 dB and the solver itself is told to about 0.1 dB.
    for (const part of ['rearDb', 'sideDb', 'frontGainDb', 'directivityIndexDb'] as const)
      expect(Math.abs((known?.[part] ?? Number.NaN) - solved[part])).toBeLessThan(0.2)
  }
}, 60000)
