import { defineCollection } from 'astro:content'
import { glob } from 'astro/loaders'
import { z } from 'astro/zod'
import { withWords } from './tools/pseudo-language.mjs'

/** A lesson of the course "Before your first event". */
const lessons = defineCollection({
  loader: withWords(glob({ pattern: '*.mdx', base: './content/lessons' }), ['title', 'summary', 'belief']),
  schema: z.object({
    /** The lesson's name, as in the course list. */
    title: z.string(),
    /** Place in the course, from 1. */
    order: z.number().int().min(1),
    /** One sentence for the list and for link previews. */
    summary: z.string(),
    /** Reading time with the widget tried once, minutes. */
    minutes: z.number().int().positive(),
    /** The belief that readers arrive with. */
    belief: z.string(),
  }),
})

/** A one-minute answer to a client's question. */
const answers = defineCollection({
  loader: withWords(glob({ pattern: '*.mdx', base: './content/answers' }), ['title', 'summary']),
  schema: z.object({
    /** The question as a client would ask it. */
    title: z.string(),
    order: z.number().int().min(1),
    /** The answer in one sentence: the lede, the list and link previews. */
    summary: z.string(),
  }),
})

/** One term, defined once. */
const glossary = defineCollection({
  loader: withWords(glob({ pattern: '*.md', base: './content/glossary' }), ['term']),
  schema: z.object({
    term: z.string(),
    /** Symbol used for it in formulas, if any. */
    symbol: z.string().optional(),
    unit: z.string().optional(),
  }),
})

/** One published source that a check, a formula or a sentence leans on. */
const sources = defineCollection({
  loader: withWords(glob({ pattern: '*.json', base: './content/sources' }), ['used']),
  schema: z.object({
    title: z.string(),
    authors: z.string().optional(),
    publisher: z.string(),
    year: z.number().int(),
    kind: z.enum(['standard', 'book', 'paper', 'website']),
    /** What the site takes from it, in one line. */
    used: z.string(),
  }),
})

/** One demo rig; `checkRig` of the acoustics module guards the numbers when it is used. */
const slope = z.object({
  alignment: z.enum(['linkwitz-riley', 'butterworth']),
  order: z.number().int(),
  frequencyHz: z.number(),
})
const driverPlace = { xM: z.number(), yM: z.number(), gain: z.number().optional(), delayS: z.number().optional() }
const driver = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('piston'), radiusM: z.number(), ...driverPlace }),
  z.object({
    kind: z.literal('horn'),
    mouthWidthM: z.number(),
    mouthHeightM: z.number(),
    horizontalCoverageRad: z.number(),
    verticalCoverageRad: z.number(),
    ...driverPlace,
  }),
])
const gear = defineCollection({
  loader: withWords(glob({ pattern: '*.json', base: './content/gear' }), ['title', 'short', 'description', 'label']),
  schema: z.object({
    name: z.string(),
    title: z.string(),
    short: z.string(),
    description: z.string(),
    order: z.number().int(),
    cabinets: z.array(
      z.object({
        name: z.string(),
        label: z.string().optional(),
        widthM: z.number(),
        heightM: z.number(),
        depthM: z.number(),
        frontCentre: z.object({ xM: z.number(), yM: z.number(), zM: z.number() }),
        yawRad: z.number().optional(),
        ways: z.array(
          z.object({
            name: z.string(),
            label: z.string().optional(),
            drivers: z.array(driver),
            highPass: slope.optional(),
            lowPass: slope.optional(),
          }),
        ),
      }),
    ),
  }),
})

export const collections = { lessons, answers, glossary, sources, gear }
