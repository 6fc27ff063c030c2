import { expect, test } from 'vitest'
import { readLink, writeLink } from '../../../../src/state/share-link.ts'
import { type WalkRoundState, walkRoundLink } from '../../../../src/widgets/walk-round/walk-round-link.ts'

const link = walkRoundLink(['top-over-sub', 'compact-two-way'])

test('a whole walk-round state survives its link', () => {
  const state: WalkRoundState = {
    rig: 'compact-two-way',
    angleDeg: -135,
    distanceM: 1.35,
    datum: 'nearest-face',
    picture: 'levels',
    bands: 'one',
    frequencyHz: 31.5,
    surroundings: 'wall',
    hall: 'brick',
    wallM: 0.35,
    referenceDbA: 98,
    signal: 'music',
    level: 'matched',
    units: 'ft',
  }
  const params = writeLink(link, state, new URLSearchParams())
  expect(readLink(link, new URLSearchParams(params.toString()))).toMatchObject({ state, dropped: [] })
})

test('a rig that the page does not have, and a frequency between the bands, are dropped', () => {
  const { state, dropped } = readLink(
    link,
    new URLSearchParams('walk.rig=stadium&walk.frequencyHz=1001&walk.angleDeg=10'),
  )
  expect(state.rig).toBe('top-over-sub')
  expect(state.frequencyHz).toBe(250)
  expect(state.angleDeg).toBe(10)
  expect(dropped).toHaveLength(2)
})

test('a link to a rig that somebody saved elsewhere says so, and one saved here is taken', () => {
  const params = new URLSearchParams('walk.rig=own-our-top')
  expect(readLink(link, params).dropped[0]).toContain('saved on another device or was deleted')
  expect(readLink(walkRoundLink(['top-over-sub', 'own-our-top']), params)).toMatchObject({
    state: { rig: 'own-our-top' },
    dropped: [],
  })
})
