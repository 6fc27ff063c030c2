// What a language has to say before it counts as there: home with the walk round, the answers, safety, the first lesson, and whatever
// of the interface these pages can show. All else falls back to English and is only counted, until the language has every lesson: from
// then on it says all that English says. Plain JavaScript.
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { termsInProse } from '../widgets/prose/terms-in-prose.ts'
import { wordsOfData } from './languages.mjs'
import { fileOfMessages } from './messages.mjs'
import { englishData, englishMessages, englishTitles } from './translation-faults.mjs'

const root = fileURLToPath(new URL('../..', import.meta.url))

const lessons = readdirSync(join(root, 'content/lessons')).map((file) => `lessons/${file}`)
const answers = readdirSync(join(root, 'content/answers')).map((file) => `answers/${file}`)
const pages = ['pages/home.mdx', 'pages/answers.mdx', 'pages/safety.mdx', 'lessons/walk-round-the-back.mdx', ...answers]

/** Pages after the lessons, named in the course's list. */
const courseEnd = ['final-check', 'sheet', 'card', 'afterwards'].map((name) => `pages/${name}.mdx`)

/** The files of src that make these pages; what the pages' own MDX imports comes with it. */
const makers = ['index', 'answers/index', 'answers/[slug]', 'lessons/[slug]', 'safety/index'].map(
  (name) => `src/pages/${name}.astro`,
)

/** Folders of data whose words they show. */
const neededData = ['halls', 'gear']

/** What these files import and yet never show on these pages, with the reason. */
const neverShown = [
  // A lesson's check fetches its own questions alone; the final check is not theirs.
  /^widgets\/self-check\/lessons\/(?!walk-round)/,
  // Pictures for link previews and pages of the course are made of the same files.
  /^widgets\/final-check\//,
]

/** Every file of ours that these can lead to, whether at once or when it is wanted. */
function reached(files) {
  const found = new Set()
  const visit = (imported) => {
    // The words stand in the .json; the module beside it is made of it, and in a tree that was just fetched it is not there.
    const file = imported.replace(/(?<=\.messages\.)ts$/, 'json')
    if (found.has(file) || !existsSync(join(root, file))) return
    found.add(file)
    const text = readFileSync(join(root, file), 'utf8')
    // Types are nothing on a page.
    const code = text.replace(/import type [^;]*?from '[^']+'/g, '')
    for (const [, target] of code.matchAll(/(?:\bfrom|\bimport|new URL\()\s*\(?\s*'(\.{1,2}\/[^'?]+)/g))
      visit(relative(root, join(root, dirname(file), target)).replaceAll('\\', '/'))
  }
  for (const file of files) visit(file)
  return found
}

/** The files of messages that the pages can show: 'widgets/walk-round/walk-round'. */
const shownMessages = () =>
  [...reached([...makers, ...pages.map((file) => `content/${file}`)])]
    .filter((file) => file.endsWith('.messages.json'))
    .map((file) => fileOfMessages(join(root, file)))
    .filter((file) => !neverShown.some((pattern) => pattern.test(file)))
    .sort()

/** The terms that the pages open, as files of the glossary. */
const openedTerms = () =>
  [...new Set(pages.flatMap((file) => termsInProse(readFileSync(join(root, 'content', file), 'utf8'))))].map(
    (id) => `glossary/${id}.md`,
  )

/**
 * What a language lacks.
 *
 * @param language  one of languageIn
 * @returns  parts, each with its name, how many pieces of words it has and the names of those that are missing; `needed` of those
 *           that have to be there
 */
export function missingIn({ messages, data, files }) {
  const isWhole = lessons.every((file) => files.includes(file))
  const shown = new Set(shownMessages())
  const ofMessages = Object.entries(englishMessages()).map(([file, english]) => ({
    part: file,
    needed: isWhole || shown.has(file),
    all: Object.keys(english).length,
    missing: Object.keys(english).filter((key) => messages[file]?.[key] === undefined),
  }))
  const needed = new Set([...pages, ...openedTerms()])
  const ofPages = ['pages', 'answers', 'lessons', 'glossary'].flatMap((folder) => {
    const all = readdirSync(join(root, 'content', folder)).map((file) => `${folder}/${file}`)
    return [true, false].map((isNeeded) => {
      const some = all.filter((file) => needed.has(file) === isNeeded)
      return {
        part: `content/${folder}`,
        needed: isWhole || isNeeded,
        all: some.length,
        missing: some.filter((file) => !files.includes(file)),
      }
    })
  })
  const ofData = Object.keys(wordsOfData).map((folder) => {
    const texts = [...englishData([folder])]
    const missing = texts.filter((text) => data[text] === undefined)
    return { part: `content/${folder}`, needed: isWhole || neededData.includes(folder), all: texts.length, missing }
  })
  // The course's list and the end of a lesson name them.
  const named = [...lessons, ...courseEnd]
  const titles = named.filter((file) => !files.includes(file)).flatMap(englishTitles)
  const ofTitles = {
    part: 'names of pages of the course',
    needed: true,
    all: titles.length,
    missing: titles.filter((text) => data[text] === undefined),
  }
  return [...ofPages, ...ofMessages, ...ofData, ofTitles].filter(({ missing }) => missing.length > 0)
}
