// What of a language does not fit English: keys and pages that English no longer has, messages that ask for other values, pages with
// other numbers, terms, links or headings. A reader would be told something wrong. Plain JavaScript.
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { headingsIn } from './heading-anchors.mjs'
import { wordsOfData } from './languages.mjs'
import { shapeOf } from './message-code.mjs'
import { fileOfMessages } from './messages.mjs'

const root = fileURLToPath(new URL('../..', import.meta.url))
const source = join(root, 'src')

/** All messages of the site in English: file → key → message. */
export const englishMessages = () =>
  Object.fromEntries(
    readdirSync(source, { recursive: true })
      .filter((file) => file.endsWith('.messages.json'))
      .sort()
      .map((file) => [fileOfMessages(join(source, file)), JSON.parse(readFileSync(join(source, file), 'utf8'))]),
  )

/** What lists and links say of a page: fields of its front matter, in English. */
export function englishTitles(file) {
  const [, matter = ''] = /^---\n(.*?)\n---\n/s.exec(readFileSync(join(root, 'content', file), 'utf8')) ?? []
  return [...matter.matchAll(/^(?:title|question|description): (.*)$/gm)].map(([, text]) =>
    text.replace(/^"(.*)"$/, '$1'),
  )
}

/** The words of data that a reader sees, in English; of some folders of content or of all that have any. */
export function englishData(folders = Object.keys(wordsOfData)) {
  const found = new Set()
  const look = (data, names) => {
    if (typeof data !== 'object' || data === null) return
    for (const [name, value] of Object.entries(data)) {
      if (typeof value === 'string' && names.includes(name)) found.add(value)
      else look(value, names)
    }
  }
  for (const folder of folders)
    for (const file of readdirSync(join(root, 'content', folder)))
      if (file.endsWith('.json'))
        look(JSON.parse(readFileSync(join(root, 'content', folder, file), 'utf8')), wordsOfData[folder])
  return found
}

/** What is wrong with one message, as sentences. */
export function messageFaults(english, own, code) {
  let theirs
  try {
    theirs = shapeOf(own, code)
  } catch (error) {
    return [error.message]
  }
  const ours = shapeOf(english, 'en')
  const faults = []
  const list = (names) => [...names].sort().join(', ') || 'none'
  const namesOf = (shape) => list(shape.values.keys())
  if (namesOf(ours) !== namesOf(theirs)) faults.push(`its values are ${namesOf(theirs)}; English has ${namesOf(ours)}`)
  if (list(ours.tags) !== list(theirs.tags))
    faults.push(`its tags are ${list(theirs.tags)}; English has ${list(ours.tags)}`)
  for (const [name, type] of theirs.values) {
    const wanted = ours.values.get(name)
    if (wanted !== undefined && list(type.split(' | ')) !== list(wanted.split(' | ')))
      faults.push(`{${name}} is of ${type}; English has ${wanted}`)
  }
  return [...faults, ...pluralFaults(ours, theirs, code)]
}

/** A plural that English bends has every case that whole numbers need in the language. */
function pluralFaults(ours, theirs, code) {
  const rules = new Intl.PluralRules(code)
  const bent = new Set(ours.plurals.filter(({ cases }) => cases.includes('one')).map(({ arg }) => arg))
  return theirs.plurals
    .filter(({ arg }) => bent.has(arg))
    .flatMap(({ arg, cases }) => {
      const needed = Array.from({ length: 101 }, (_, count) => count).filter((count) => !cases.includes(`=${count}`))
      const lacks = new Set(needed.map((count) => rules.select(count)).filter((category) => !cases.includes(category)))
      return [...lacks].map((category) => `{${arg}, plural} has no ${category}`)
    })
}

/** Attributes that hold words; all others of a component are the same in every language. */
const wordsOfMarkup = /\s(?:title|label|caption|alt|aria-label)="[^"]*"/g

/** What a page of content has that is the same in every language, by kind, each as a sorted list. */
export function partsOf(text) {
  const [, matter = '', words = ''] = /^(?:---\n(.*?)\n---\n)?(.*)$/s.exec(text) ?? []
  const all = (pattern, of = words) => [...of.matchAll(pattern)].map(([found, part]) => part ?? found).sort()
  return {
    components: all(/<[A-Za-z][^<>]*>/g)
      .map((tag) => tag.replace(wordsOfMarkup, '').replace(/\s+/g, ' '))
      .sort(),
    links: all(/\]\(([^)\s]+)\)/g),
    imports: all(/^import .*\/([^/]+)'$/gm),
    formulas: all(/\$[^$]+\$/g).map(() => '$'),
    fields: all(/^([a-z][a-zA-Z]*):/gm, matter),
    headings: headingsIn(text).map(({ depth }) => `h${depth}`),
  }
}

/** What is wrong with one page, as sentences. */
export function pageFaults(english, own) {
  const [ours, theirs] = [partsOf(english), partsOf(own)]
  return Object.keys(ours).flatMap((kind) => {
    const more = without(theirs[kind], ours[kind])
    const fewer = without(ours[kind], theirs[kind])
    return [
      ...(more.length > 0 ? [`${kind} that English has not: ${more.join(' ')}`] : []),
      ...(fewer.length > 0 ? [`${kind} that only English has: ${fewer.join(' ')}`] : []),
    ]
  })
}

/** What is in one list and not, or not as often, in another. */
function without(list, other) {
  const left = [...other]
  return list.filter((item) => {
    const at = left.indexOf(item)
    if (at >= 0) left.splice(at, 1)
    return at < 0
  })
}

/** What of a language does not fit English, each as 'where: what'. `language` is one of languageIn. */
export function translationFaults({ code, messages, data, files }) {
  const english = englishMessages()
  const texts = englishData()
  for (const folder of ['pages', 'lessons', 'answers'])
    for (const file of readdirSync(join(root, 'content', folder)))
      for (const text of englishTitles(`${folder}/${file}`)) texts.add(text)
  const ofMessages = Object.entries(messages).flatMap(([file, own]) =>
    Object.entries(own).flatMap(([key, message]) => {
      const where = `messages.json, ${file}: ${key}`
      const ours = english[file]?.[key]
      if (ours === undefined) return [`${where}: English has no such message`]
      return messageFaults(ours, message, code).map((fault) => `${where}: ${fault}`)
    }),
  )
  const ofData = Object.keys(data)
    .filter((text) => !texts.has(text))
    .map((text) => `data.json: no file of content says “${text}” any more`)
  const ofPages = files.flatMap((file) => {
    const original = join(root, 'content', file)
    if (!existsSync(original)) return [`${file}: English has no such page`]
    const own = readFileSync(join(root, 'content/languages', code, file), 'utf8')
    return pageFaults(readFileSync(original, 'utf8'), own).map((fault) => `${file}: ${fault}`)
  })
  return [...ofMessages, ...ofData, ...ofPages].map((fault) => `${code}/${fault}`)
}
