import { describe, expect, test } from 'vitest'
import type { WalkAnswer, WallEffect } from '../../../../src/engine/questions/walk/walk.ts'
import type { Heard } from '../../../../src/engine/scene/heard.ts'
import { datumSentence } from '../../../../src/widgets/walk-round/describe-datum.ts'
import { groundSentence, wallSentence } from '../../../../src/widgets/walk-round/describe-surroundings.ts'
import {
  differenceWords,
  shareSentence,
  trebleWords,
  walkFinding,
  walkSentence,
} from '../../../../src/widgets/walk-round/describe-walk-round.ts'
import { directionWords } from '../../../../src/words/directions.ts'
import { downWords, quieterWords } from '../../../../src/words/levels.ts'

const heardAs = (sones: number, bassShare: number): Heard => ({
  aWeightedDb: 80,
  cWeightedDb: 85,
  sones,
  phons: 80,
  bassSones: sones * bassShare,
  bassShare,
})

const answer = (change: Partial<WalkAnswer>): WalkAnswer => ({
  distanceM: 1.8,
  frontPlace: { angleRad: 0, distanceM: 1.8 },
  hereDb: [],
  frontDb: [],
  bassDb: -3.2,
  trebleDb: -23.4,
  solved: true,
  estimateFromHz: Number.POSITIVE_INFINITY,
  pathDb: 0,
  heard: { here: heardAs(34, 0.253), front: heardAs(88, 0.112) },
  byOtherDatum: { distanceM: 1.1, bassDb: -6.4, trebleDb: -26, pathDb: -2.61 },
  ...change,
})

describe('the walk-round in words', () => {
  test('names the place, the bass and the treble against the front', () => {
    expect(walkSentence(answer({}), 180, 'm')).toBe(
      'You are 1.8 m behind the loudspeaker. Bass is 3 dB quieter than at the same distance in front; treble is 23 dB quieter. Yet bass makes 25 % of the loudness here, 11 % in front.',
    )
  })

  test('the number at the listener is the treble, said to be an estimate where it is one', () => {
    expect(trebleWords(answer({}), 180)).toBe('treble 23 dB down')
    expect(trebleWords(answer({ estimateFromHz: 2000 }), 180)).toBe('treble about 23 dB down')
  })

  test('the finding follows the place: the shadow, what a hall brings back, or that little is missing', () => {
    const outdoors = { bassDb: -3, trebleDb: -23 }
    expect(walkFinding(answer({}), 'shadow')).toBe('shadow')
    expect(walkFinding(answer({ bassDb: -1, trebleDb: -6.9 }), 'shadow')).toBe('Here little of the treble is missing')
    expect(walkFinding(answer({ trebleDb: -17, outdoors }), 'shadow')).toBe('The hall brings the treble back')
    expect(walkFinding(answer({ trebleDb: -18, outdoors }), 'shadow')).toBe('shadow')
  })

  test('the share of the bass is told as the numbers have it', () => {
    const words = (bassDb: number, here: number, front: number) =>
      shareSentence(answer({ bassDb, heard: { here: heardAs(30, here), front: heardAs(80, front) } }))
    expect(words(2, 0.3, 0.1)).toBe('Bass makes 30 % of the loudness here, 10 % in front.')
    expect(words(-0.3, 0.3, 0.1)).toBe('Bass makes 30 % of the loudness here, 10 % in front.')
    expect(words(-2, 0.08, 0.1)).toBe('Bass makes only 8 % of the loudness here, 10 % in front.')
    expect(words(-2, 0.102, 0.1)).toBe('Bass makes 10 % of the loudness, as in front.')
  })

  test('the wall is told by its deepest cut and highest lift, and small changes are not told', () => {
    const none = { cutHz: 0, cutDb: -1, liftHz: 40, liftDb: 2 }
    const dip = { cutHz: 72.3, cutDb: -9.2, liftHz: 141, liftDb: 4.6 }
    const words = (front: WallEffect, here: WallEffect) => wallSentence(answer({ wall: { front, here } }), 1.2, 'm')
    expect(words(dip, { ...none, liftHz: 63, liftDb: 5.7 })).toBe(
      'The wall 1.2 m behind the box cuts 72 Hz by 9 dB and lifts 140 Hz by 5 dB in front; here it lifts 63 Hz by 6 dB.',
    )
    expect(words(none, dip)).toContain('changes little in front; here it cuts 72 Hz')
    expect(words(none, none)).toContain('changes no bass by 3 dB or more')
    expect(wallSentence(answer({}), 1.2, 'm')).toBe('')
  })

  test('the ground is told in the same terms, once where it does the same to both', () => {
    const none = { cutHz: 0, cutDb: -1, liftHz: 40, liftDb: 2 }
    const dip = { cutHz: 318, cutDb: -5.2, liftHz: 31.5, liftDb: 5.6 }
    const words = (front: WallEffect, here: WallEffect) => groundSentence(answer({ wall: { front, here } }))
    expect(words(dip, dip)).toBe('The ground cuts 320 Hz by 5 dB and lifts 32 Hz by 6 dB, here and in front alike.')
    expect(words({ ...dip, cutHz: 290 }, dip)).toMatch(/^The ground cuts 290 Hz .* in front; here it cuts 320 Hz/)
    expect(words(none, none)).toBe('The ground changes no bass by 3 dB or more, here or in front.')
    expect(words(none, dip)).toContain('The ground changes little in front; here it cuts')
    expect(groundSentence(answer({}))).toBe('')
  })

  test('says louder when it is louder, and "as loud as" when it is', () => {
    expect(walkSentence(answer({ bassDb: 2 }), 180, 'm')).toContain('Bass is 2 dB louder than')
    expect(walkSentence(answer({ bassDb: -0.4 }), 180, 'm')).toContain(
      'Bass is as loud as at the same distance in front',
    )
    expect(walkSentence(answer({ bassDb: 0.3, trebleDb: -0.2 }), 0, 'm')).toContain('Bass and treble are as loud')
  })

  test('says about where the treble is an estimate: behind, above what the model is trusted to', () => {
    const estimate = answer({ estimateFromHz: 1000 })
    expect(walkSentence(estimate, 180, 'm')).toContain('treble is about 23 dB quieter')
    expect(differenceWords(estimate, 180)).toBe('Behind: bass 3 dB down, treble about 23 dB down')
    expect(walkSentence(estimate, 90, 'm')).toContain('treble is 23 dB quieter')
    expect(walkSentence(answer({ estimateFromHz: 4000 }), 180, 'm')).toContain('treble is 23 dB quieter')
  })

  test('speaks feet when the reader does', () => {
    expect(walkSentence(answer({}), 180, 'ft')).toContain('You are 6 ft behind')
  })

  test.each([
    [0, 'in front of'],
    [22, 'in front of'],
    [-45, 'in front and to the side of'],
    [90, 'beside'],
    [-112, 'beside'],
    [135, 'behind and to the side of'],
    [180, 'behind'],
    [-170, 'behind'],
  ])('%i° is %s the loudspeaker', (angleDeg, words) => {
    expect(directionWords(angleDeg)).toBe(words)
  })

  test('differences are whole decibels with their direction', () => {
    expect(quieterWords(-0.5)).toBe('as loud')
    expect(quieterWords(1.6)).toBe('2 dB louder')
    expect(downWords(-22.7)).toBe('23 dB down')
    expect(downWords(0.2)).toBe('unchanged')
    expect(differenceWords(answer({}), -150)).toBe('Behind: bass 3 dB down, treble 23 dB down')
    expect(differenceWords(answer({}), 90)).toBe('Beside: bass 3 dB down, treble 23 dB down')
  })

  test('the choice of the measuring point is told with both distances, both bass levels and the path alone', () => {
    const words = datumSentence(answer({}), 'front-face', 'm')
    expect(words).toContain('1.8 m from the front face and 1.1 m from the nearest face')
    expect(words).toContain('from the front face bass here is 3 dB down; from the nearest face, 6 dB down')
    expect(words).toContain('2.6 dB of the difference')
    const swapped = answer({
      ...answer({}).byOtherDatum,
      byOtherDatum: { distanceM: 1.8, bassDb: -3.2, trebleDb: -23.4, pathDb: 0 },
    })
    expect(datumSentence(swapped, 'nearest-face', 'm')).toBe(words)
  })
})
