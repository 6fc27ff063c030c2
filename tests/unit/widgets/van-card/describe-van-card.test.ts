import { globSync } from 'node:fs'
import { basename } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { CardAnswer } from '../../../../src/engine/questions/card/card-terms.ts'
import { lessonsWithNumbers, ownLines } from '../../../../src/widgets/van-card/describe-van-card.ts'
import { doLine } from '../../../../src/widgets/van-card/do-lines.ts'

const card: CardAnswer = {
  boxes: [
    { labels: ['top'], widthM: 0.32, wrapHz: 432, isSolved: true, kaIsOneHz: 341 },
    { labels: ['sub', 'other sub'], widthM: 0.56, wrapHz: 288, isSolved: false, kaIsOneHz: 195 },
  ],
  horns: [
    { plane: 'across', mouthM: 0.26, coverageDeg: 90, letsGoHz: 1129, ruleHz: 1085 },
    { plane: 'upright', mouthM: 0.17, coverageDeg: 137, letsGoHz: null, ruleHz: 1090 },
  ],
  columns: [{ count: 8, lengthM: 0.9, oneWaveHz: 381.3, furtherHz: 3050 }],
  depthM: 0.66,
  dips: [
    { gapM: 0.05, dipHz: 94.6 },
    { gapM: 1.2, dipHz: null },
  ],
  pair: { label: 'sub', band: { fromHz: 40, toHz: 100 }, spacingM: 1.35, delayS: 0.003933, quarterHz: 63.56 },
}
const plain = (lines: string[]) => lines.map((line) => line.replaceAll('\u00a0', ' '))
const inM = (slug: string, of = card) => plain(ownLines(slug, of, 'm'))
const inFt = (slug: string, of = card) => plain(ownLines(slug, of, 'ft'))

describe('the numbers on the card', () => {
  test('go with lessons that there are; the others have none', () => {
    const lessons = globSync('content/lessons/*.mdx').map((file) => basename(file, '.mdx'))
    for (const slug of lessonsWithNumbers) expect(lessons).toContain(slug)
    expect(inM('walk-round-the-back')).toEqual([])
  })

  test('a box: where its rear is 6 dB down, and whether that is a first estimate', () => {
    const [top, sub] = inM('small-box-long-wave')
    expect(top).toContain('top, 32 cm wide: rear 6 dB down at 430 Hz')
    expect(top).toContain('ka = 1: 340 Hz')
    expect(sub).toContain('sub and other sub, 56 cm wide: rear 6 dB down at about 290 Hz (a first estimate)')
    expect(inFt('small-box-long-wave')[0]).toContain('top, 12.5 in wide')
    const at = (wrapHz: 'below' | 'above') =>
      inM('small-box-long-wave', {
        ...card,
        boxes: [{ labels: ['it'], widthM: 0.3, wrapHz, isSolved: true, kaIsOneHz: 300 }],
      })[0]
    expect(at('below')).toContain('below 32 Hz already')
    expect(at('above')).toContain('only above 2 kHz')
  })

  test('a horn: both planes, computed and by the rule, or by the rule alone; or that there is none', () => {
    expect(inM('what-a-horn-holds')).toEqual([
      '90° left to right, mouth 26 cm: lets go below 1.1 kHz (rule 1.1 kHz).',
      '137° up and down, mouth 17 cm: lets go below 1.1 kHz by the rule.',
    ])
    expect(inM('what-a-horn-holds', { ...card, horns: [] })).toEqual(['No horn in this rig.'])
  })

  test('a row: its length and two frequencies; or that there is none', () => {
    expect(inM('tall-and-thin')[0]).toContain('Row of 8, 90 cm long: holds its sound in height from 380 Hz up')
    expect(inFt('tall-and-thin')[0]).toContain('Row of 8, 35.5 in long')
    expect(inM('tall-and-thin', { ...card, columns: [] })[0]).toContain('No row')
  })

  test('the wall: a dip for each distance, or none', () => {
    expect(inM('the-wall-joins-in')).toEqual([
      'Front face to back of the rig: 66 cm.',
      'Back to a hard wall → first dip, heard 4 m in front: 5 cm → 95 Hz · 1.20 m → none',
    ])
    expect(inFt('the-wall-joins-in')[1]).toContain('heard 13 ft in front: 2 in → 95 Hz · 3.9 ft → none')
  })

  test('the pair: spacing by the tape, delay and polarity; or that there is none', () => {
    expect(inM('bass-that-takes-sides')).toEqual([
      'Two of “sub”, 40 to 100 Hz: fronts 1.35 m apart (a quarter wave of 64 Hz), the rear one 3.9 ms late and inverted.',
    ])
    expect(inFt('bass-that-takes-sides')[0]).toContain('fronts 4 ft 5 in apart')
    expect(inM('bass-that-takes-sides', { ...card, pair: null })[0]).toContain('Nothing in this rig')
  })
})

test('a step is one sentence in either unit, its numbers where the lesson has them', async () => {
  const parts = [
    'Distance.',
    ' One tape\n to both: ',
    { component: 'Fact', given: { name: 'compare-distance' } },
    ' each way.',
  ]
  const line = await doLine(
    parts,
    async ({ given }) =>
      (units) =>
        `${String(given['name'])} in ${units}`,
  )
  expect(line).toEqual({
    m: 'Distance. One tape to both: compare-distance in m each way.',
    ft: 'Distance. One tape to both: compare-distance in ft each way.',
  })
})
