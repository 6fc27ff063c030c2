import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { Rig } from '../../../../../src/acoustics/index.ts'
import { rangeFacts } from '../../../../../src/engine/questions/walk/range-facts.ts'
import { walkAnswer } from '../../../../../src/engine/questions/walk/walk.ts'
import { comparedAtM, demoFacts } from '../../../../../src/engine/questions/walk/walk-facts.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'
import type { Outdoors } from '../../../../../src/engine/scene/surroundings.ts'
import { demoRigNames, rigOf } from '../../../../demo-gear.ts'

const rig = JSON.parse(
  readFileSync(new URL('../../../../../content/gear/top-over-sub.json', import.meta.url), 'utf8'),
) as Rig
await loadSolvedRig(rig)
const facts = demoFacts(rig)
const rigs = demoRigNames().map(rigOf)
for (const one of rigs) await loadSolvedRig(one)
const range = rangeFacts(rigs)
const value = (name: keyof typeof facts) => facts[name].value

describe('the numbers of the prose', () => {
  it('are all finite', () => {
    for (const [name, fact] of Object.entries(facts)) expect(Number.isFinite(fact.value), name).toBe(true)
  })
  it('agree with the sentence under the figure', () => {
    const answer = walkAnswer({ rig, place: { angleRad: Math.PI, distanceM: comparedAtM }, datum: 'front-face' })
    expect(value('bass-drop-behind')).toBe(-answer.bassDb)
    expect(value('treble-drop-behind')).toBe(-answer.trebleDb)
  })
  it('bear out the words: a little less bass behind, far less treble, treble first on the way round', () => {
    expect(value('bass-drop-behind')).toBeGreaterThan(0.5)
    expect(value('treble-drop-behind')).toBeGreaterThan(value('bass-drop-behind') + 10)
    for (const direction of ['oblique', 'beside', 'rear-quarter', 'behind'] as const) {
      const bass = value(`bass-drop-${direction}`)
      expect(bass, `bass ${direction} does not go up`).toBeGreaterThan(-0.5)
      expect(value(`treble-drop-${direction}`), direction).toBeGreaterThan(bass + 3)
    }
    expect(value('treble-drop-oblique')).toBeLessThan(value('treble-drop-beside'))
    expect(value('treble-drop-beside')).toBeLessThan(value('treble-drop-rear-quarter'))
  })
  it('bear out "about a thousandth" of the treble power behind this rig, and "about a hundredth or less" behind all', () => {
    expect(10 ** (-value('treble-drop-behind') / 10)).toBeLessThan(0.0015)
    expect(10 ** (-range['treble-least'].value / 10)).toBeLessThan(0.013)
  })
  it('span what the rigs give, this one among them', () => {
    for (const [kind, name] of [
      ['bass', 'bass-drop-behind'],
      ['treble', 'treble-drop-behind'],
    ] as const) {
      expect(value(name)).toBeGreaterThanOrEqual(range[`${kind}-least`].value)
      expect(value(name)).toBeLessThanOrEqual(range[`${kind}-most`].value)
    }
    expect(range.rigs.value).toBe(demoRigNames().length)
    expect(range['bass-power-most'].value).toBeGreaterThan(range['bass-power-least'].value)
    expect(() => rangeFacts([])).toThrow(RangeError)
  })
  it('change little on hard ground: "little changes"', () => {
    const answer = (surroundings: Outdoors) =>
      walkAnswer({
        rig,
        place: { angleRad: Math.PI, distanceM: value('ground-at') },
        datum: 'front-face',
        surroundings,
      })
    const [ground, free] = [answer({ kind: 'outdoors', floor: 'hard' }), answer({ kind: 'outdoors' })]
    expect(value('ground-bass-drop-behind')).toBe(-ground.bassDb)
    expect(value('ground-treble-drop-behind')).toBe(-ground.trebleDb)
    expect(Math.abs(ground.bassDb - free.bassDb)).toBeLessThan(1)
    expect(Math.abs(ground.trebleDb - free.trebleDb)).toBeLessThan(3)
  })
  it('know how much of the bass drop at equal distance from the nearest face is the longer way', () => {
    const answer = walkAnswer({
      rig,
      place: { angleRad: Math.PI, distanceM: value('rear-distance-nearest-face') },
      datum: 'nearest-face',
    })
    expect(answer.distanceM).toBeCloseTo(comparedAtM, 9)
    expect(answer.frontPlace.distanceM).toBeCloseTo(comparedAtM, 9)
    // The sub is 0.66 m deep: 20 lg(2.66 / 2) = 2.477 dB, worked by hand.
    expect(value('path-drop-nearest-face')).toBeCloseTo(2.477, 3)
    expect(value('bass-drop-behind-nearest-face')).toBeGreaterThan(value('path-drop-nearest-face'))
  })
  it('have the wavelengths of a table at 343.2 m/s: 5.72 m at 60 Hz, 0.0858 m at 4 kHz', () => {
    expect(value('wavelength-60')).toBeCloseTo(5.72, 2)
    expect(value('wavelength-4k')).toBeCloseTo(0.0858, 4)
  })
  it('refuse a rig without cabinets', () => {
    expect(() => demoFacts({ name: 'empty', cabinets: [] })).toThrow(RangeError)
  })
})
