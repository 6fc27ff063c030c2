import * as v from 'valibot'
import { heardBands } from '../../engine/scene/third-octaves.ts'

// What the kept form of a test is made of: numbers that can be, levels with their errors.

export const finite = v.pipe(v.number(), v.finite())
export const positive = v.pipe(finite, v.minValue(0))
export const level = v.pipe(finite, v.minValue(-400), v.maxValue(400))
export const estimate = v.object({ levelDb: level, errorDb: positive, freedom: v.pipe(finite, v.minValue(1)) })
export const bandCount = heardBands.length
/** One for each third octave, null where there is none. */
export const bandEstimates = v.pipe(v.array(v.nullable(estimate)), v.length(bandCount))
