import { defineCollection } from 'astro:content'
import { glob, type Loader } from 'astro/loaders'
import { z } from 'astro/zod'
import * as v from 'valibot'
import { previewKinds } from './layouts/preview/preview-kinds.ts'
import { demoRigSchema } from './state/rig-schema.ts'
import { faultWords } from './state/schema-words.ts'
import { wordsOfData } from './tools/languages.mjs'
import { filesIn, withWords } from './tools/site-language.mjs'

/**
 * The files of one folder of content/, checked by a schema. Astro takes Zod schemas alone; ours are valibot's like all
 * others of the site, so one of Zod's that hands on is all that there is of it. `words` are the fields that a reader sees.
 */
function filesOf<S extends v.GenericSchema>(folder: string, pattern: string, words: string[], schema: S) {
  const files: Loader = withWords(glob(filesIn(folder, pattern)), words)
  return defineCollection({
    loader: {
      ...files,
      // Read and checked anew at every start: what Astro keeps it takes as checked, even if a schema's file has changed since.
      load: (context) => {
        context.store.clear()
        return files.load(context)
      },
    },
    schema: z.unknown().transform((input, context): v.InferOutput<S> => {
      const result = v.safeParse(schema, input)
      if (result.success) return result.output
      for (const issue of result.issues) {
        const path = issue.path?.map(({ key }) => key as PropertyKey) ?? []
        context.issues.push({ code: 'custom', input, path, message: faultWords(issue) })
      }
      return z.NEVER
    }),
  })
}

/** What the picture of link previews shows; what is heard behind without it. */
const preview = v.optional(v.picklist(previewKinds))

const wholeFrom1 = v.pipe(v.number(), v.integer(), v.minValue(1))

/** A lesson of the course "Before your first event". */
const lessons = filesOf(
  'lessons',
  '*.mdx',
  ['title', 'question', 'summary', 'belief'],
  v.strictObject({
    /** The lesson's name, as in the course list. */
    title: v.string(),
    /** What the lesson asks, without giving the answer away: for the list and for the links from its neighbours. */
    question: v.string(),
    /** Place in the course, from 1; of an extra, the lesson that it goes on from. */
    order: wholeFrom1,
    /** Offered after a lesson and not counted among them. */
    extra: v.optional(v.boolean()),
    /** The answer in a few sentences: the lede, which comes after the guess, and link previews. */
    summary: v.string(),
    /** Reading time with the widget tried once, minutes. */
    minutes: wholeFrom1,
    /** The belief that readers arrive with. */
    belief: v.string(),
    preview,
  }),
)

/** A one-minute answer to a client's question. */
const answers = filesOf(
  'answers',
  '*.mdx',
  ['title', 'summary'],
  v.strictObject({
    /** The question as a client would ask it. */
    title: v.string(),
    order: wholeFrom1,
    /** The answer in one sentence: the lede, the list and link previews. */
    summary: v.string(),
    preview,
  }),
)

/** One term, defined once. */
const glossary = filesOf(
  'glossary',
  '*.md',
  ['term'],
  v.strictObject({
    term: v.string(),
    /** Symbol used for it in formulas, if any. */
    symbol: v.optional(v.string()),
    unit: v.optional(v.string()),
  }),
)

/** One published source that a check, a formula or a sentence leans on. */
const sources = filesOf(
  'sources',
  '*.json',
  wordsOfData.sources,
  v.strictObject({
    title: v.string(),
    authors: v.optional(v.string()),
    publisher: v.string(),
    year: v.pipe(v.number(), v.integer()),
    kind: v.picklist(['standard', 'book', 'paper', 'measurement', 'website', 'program']),
    /** What the site takes from it, in one line. */
    used: v.string(),
  }),
)

/** One demo rig. */
const gear = filesOf('gear', '*.json', wordsOfData.gear, demoRigSchema)

/** The words of a page that is neither lesson nor answer. */
const pages = filesOf(
  'pages',
  '*.mdx',
  ['title', 'heading', 'description', 'lede', 'withoutScript'],
  v.strictObject({
    title: v.string(),
    /** The heading on the page, if it is not the title. */
    heading: v.optional(v.string()),
    /** One sentence for link previews. */
    description: v.string(),
    lede: v.optional(v.string()),
    /** What a reader is told whose browser runs no script. */
    withoutScript: v.optional(v.string()),
    preview,
  }),
)

/** The words round figures that stand alone, for another site's <iframe>. */
const embeds = filesOf(
  'embeds',
  '*.json',
  wordsOfData.embeds,
  v.strictObject({
    title: v.string(),
    description: v.string(),
    /** Heard by screen readers only. */
    heading: v.string(),
    /** The page that the figures are from. */
    whole: v.strictObject({ href: v.string(), text: v.string() }),
    preview,
  }),
)

export const collections = { lessons, answers, glossary, sources, gear, pages, embeds }
