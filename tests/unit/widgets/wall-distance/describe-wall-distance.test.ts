import { describe, expect, test } from 'vitest'
import type { WallAnswer, WallQuestion } from '../../../../src/engine/questions/wall/wall.ts'
import type { WaveTrains } from '../../../../src/engine/questions/wall/wave-trains.ts'
import {
  clampNotice,
  dipAtMark,
  ruleSentence,
  stepWords,
  trainSentence,
  wallSentence,
} from '../../../../src/widgets/wall-distance/describe-wall-distance.ts'
import { dipFrequencyText } from '../../../../src/words/frequencies.ts'

const question = { surroundings: { kind: 'wall', gapM: 1.2 }, fromWallM: 0.3, frontM: 4 } as WallQuestion
const answer = {
  thereAndBackM: 4.88,
  ruleDipsHz: [35.2, 105.5],
  ruleRisesHz: [70.3],
  dip: { frequencyHz: 61.8, changeDb: -8.9 },
  rise: { frequencyHz: 124.6, changeDb: 4.2 },
  seemsFartherM: 0.18,
  rearBassDb: 5.2,
  pathDb: 3.1,
} as WallAnswer

describe('the sentence', () => {
  test('the number at the box is the lowest dip, if there is one', () => {
    expect(dipAtMark(answer)).toBe('62 Hz: 9 dB less in front')
    expect(dipAtMark({ ...answer, dip: null })).toBe('')
  })

  test('says what is cut, what is lifted, and what distance alone would make', () => {
    expect(wallSentence(answer, question, 'm')).toBe(
      'The wall 1.2 m behind the back cuts 62 Hz by 9 dB in front and lifts 125 Hz by 4 dB. Between box and wall, 30 cm off the wall, bass is 5 dB stronger than 4 m in front. Distance alone would make it 3 dB stronger; wall and box add 2 dB.',
    )
  })
  test('claims no dip, no rise and no difference that is not there', () => {
    expect(wallSentence({ ...answer, dip: null }, question, 'm')).toMatch(
      /^The wall 1.2 m behind the back lifts 125 Hz/,
    )
    expect(wallSentence({ ...answer, dip: null, rise: null }, question, 'm')).toMatch(
      /changes the front by less than 1 dB/,
    )
    expect(wallSentence({ ...answer, rearBassDb: -2.4, pathDb: 0.2 }, question, 'm')).toMatch(
      /bass is 2 dB weaker than 4 m in front, and both are equally far from the front face\.$/,
    )
    expect(wallSentence({ ...answer, rearBassDb: 0.3 }, question, 'm')).toMatch(
      /bass is as strong as 4 m in front\. Distance alone would make it 3 dB stronger; wall and box take 3 dB\.$/,
    )
    expect(wallSentence({ ...answer, rearBassDb: 3.3 }, question, 'm')).toMatch(/wall and box change nothing more\.$/)
  })
  test('takes feet', () => {
    expect(wallSentence(answer, question, 'ft')).toMatch(/^The wall 3\.9 ft behind the back .* 12 in off the wall/)
  })
})

test('the rule and the computed dip stand beside each other', () => {
  expect(ruleSentence(answer, 'm')).toBe(
    'From the front face to the wall and back is 4.9 m: half a wave fits in at 35 Hz, a whole wave at 70 Hz. Computed, the lowest dip from 25 Hz up is at 62 Hz, as if the wall were 20 cm farther away.',
  )
  expect(ruleSentence({ ...answer, seemsFartherM: 0.01 }, 'm')).toMatch(/is at 62 Hz\.$/)
  expect(ruleSentence({ ...answer, dip: null, seemsFartherM: null }, 'm')).toMatch(/nothing dips by 1 dB or more\.$/)
})

test('in step, out of step, or neither', () => {
  expect([0.02, 0.97, 1.1, 2].map(stepWords)).toEqual(Array(4).fill('in step'))
  expect([0.5, 1.45, 0.6].map(stepWords)).toEqual(Array(3).fill('out of step'))
  expect(stepWords(0.25)).toBe('neither in step nor out of step')
  const trains = { lateS: 0.0152, lateWaves: 1.06, changeDb: 2.9 } as WaveTrains
  expect(trainSentence(trains, 70)).toBe('At 70 Hz the wall’s sound is 15 ms late, 1.1 waves: in step. It adds 3 dB.')
  expect(trainSentence({ ...trains, lateWaves: 0.53, changeDb: -4.7 }, 35)).toMatch(
    /out of step\. It takes 5 dB away\.$/,
  )
  expect(trainSentence({ ...trains, changeDb: -0.2 }, 50)).toMatch(/It changes nothing there\.$/)
})

test('too little room is said, and only then', () => {
  expect(clampNotice(0.3, 1.2, 'm')).toBe('')
  expect(clampNotice(0.3, 0.05, 'm')).toMatch(/^Only 5 cm are left between box and wall/)
})

test('frequencies are rounded for reading', () => {
  expect([32.78, 94.67, 204.7].map(dipFrequencyText)).toEqual(['33 Hz', '95 Hz', '205 Hz'])
})
