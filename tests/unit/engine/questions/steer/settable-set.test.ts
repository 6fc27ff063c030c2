import { expect, test } from 'vitest'
import { comparedTable } from '../../../../../src/engine/questions/steer/compared-facts.ts'
import { settableSet } from '../../../../../src/engine/questions/steer/settable-set.ts'
import { lessonSet } from '../../../../../src/engine/questions/steer/steer-lesson.ts'

test('a tape is read to the centimetre, a delay set to a tenth of a millisecond, a level to half a decibel', () => {
  const set = { ...lessonSet, spacingM: 1.3478, delayS: 0.00393357, levelDb: -1.3 }
  expect(settableSet(set)).toEqual({ ...lessonSet, spacingM: 1.35, delayS: 0.0039, levelDb: -1.5 })
})

test('what can be set stays as it is', () => {
  for (const delayS of [0, 0.0001, 0.0003, 0.0019, 0.0039, 0.0299, 0.03])
    for (const spacingM of [0.3, 0.55, 0.65, 1.35, 12])
      for (const levelDb of [-12, -0.5, 0, 6]) {
        const set = { ...lessonSet, delayS, spacingM, levelDb }
        expect(settableSet(set)).toEqual(set)
      }
})

test('the table of a compared set stands 2 m behind the rearmost back, to 5 cm', () => {
  // 1.35 m to the rear face, a box of 0.66 m, and 2 m: 4.01 m.
  expect(comparedTable(lessonSet, { widthM: 0.56, heightM: 0.62, depthM: 0.66 })).toEqual({ xM: 0, zM: -4 })
  expect(comparedTable(lessonSet, { widthM: 0.56, heightM: 0.62, depthM: 0.69 })).toEqual({ xM: 0, zM: -4.05 })
})
