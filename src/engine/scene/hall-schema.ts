import * as v from 'valibot'
import { hallSurfaces } from '../../acoustics/field/hall.ts'

// What the files of content/halls have to be. Only a build reads it.

const metres = v.pipe(v.number(), v.finite())
const size = v.pipe(metres, v.minValue(1))
const place = v.strictObject({ xM: metres, zM: metres })

/** Absorption coefficients by octave, 0 nothing … 1 all, and where they come from. */
const absorber = (octaves: number) => ({
  title: v.string(),
  absorption: v.pipe(v.array(v.pipe(v.number(), v.minValue(0), v.maxValue(1))), v.length(octaves)),
  /** A file of content/sources, or 'value from memory'. */
  source: v.string(),
  /** What it is called there. */
  entry: v.string(),
})

/** content/halls/finishes.json, for so many octaves. */
export const finishesSchema = (octaves: number, finishNames: string[]) =>
  v.strictObject({
    frequenciesHz: v.array(v.number()),
    note: v.string(),
    finishes: v.record(v.string(), v.strictObject(absorber(octaves))),
    /** What a wall that stands alone may be made of, in this order. */
    offeredForOneWall: v.array(oneOf('finish', finishNames)),
    people: v.record(v.string(), v.strictObject({ ...absorber(octaves), perM2: v.pipe(v.number(), v.minValue(0.1)) })),
  })
export type FinishesContent = v.InferOutput<ReturnType<typeof finishesSchema>>

/** A hall, made of these finishes and filled with these people. */
export const hallSchema = (finishNames: string[], peopleNames: string[]) => {
  const finish = oneOf('finish', finishNames)
  const surfaces = v.strictObject(v.entriesFromList(hallSurfaces, finish))
  return v.pipe(
    v.strictObject({
      name: v.string(),
      title: v.string(),
      description: v.string(),
      lengthM: size,
      widthM: size,
      heightM: size,
      stageHeightM: metres,
      surfaces,
      audience: v.strictObject({ people: v.pipe(v.number(), v.integer()), kind: oneOf('audience', peopleNames) }),
      /** By the name in links. `surfaces` are those that differ; `people` says whether the audience is in. */
      states: v.record(
        v.string(),
        v.strictObject({
          short: v.string(),
          description: v.string(),
          surfaces: v.partial(surfaces),
          people: v.boolean(),
        }),
      ),
      /** In the hall's coordinates: x from the middle line, z from the wall behind. */
      rigPlaces: v.strictObject({ usual: place, row: place }),
      /** In the coordinates of the rig. */
      listenerPlaces: v.strictObject({ tables: place, movedTables: place }),
      furniture: v.array(
        v.strictObject({ label: v.string(), xMinM: metres, xMaxM: metres, zMinM: metres, zMaxM: metres }),
      ),
    }),
    v.check(
      ({ rigPlaces, widthM, lengthM }) =>
        Object.values(rigPlaces).every(({ xM, zM }) => Math.abs(xM) < widthM / 2 && zM > 0 && zM < lengthM),
      'a place of a rig is outside the hall; allowed is between its walls',
    ),
  )
}
export type HallContent = v.InferOutput<ReturnType<typeof hallSchema>>

/** One of some names; the error says which there are. */
const oneOf = (what: string, names: string[]) =>
  v.picklist(names, ({ input }) => `${what} is ${String(input)}; allowed is ${names.join(', ')}`)
