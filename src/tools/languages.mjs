// The languages that the site is written in besides English: a folder each in content/languages. Plain JavaScript.
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { pageAddress } from '../layouts/page-addresses.ts'

/** The language that everything is written in; what another one lacks stands in it. */
export const firstLanguage = 'en'

const content = fileURLToPath(new URL('../../content', import.meta.url))

/** The folders of content that a language may have files of, with the address of a file's page; none for what is no page alone. */
const folders = {
  pages: pageAddress,
  answers: (id) => `/answers/${id}/`,
  lessons: (id) => `/lessons/${id}/`,
  glossary: () => undefined,
}

/** The words of data that a reader sees: the fields that hold them, at any depth, by folder of content. */
export const wordsOfData = {
  halls: ['title', 'short', 'description', 'label'],
  gear: ['title', 'short', 'description', 'label'],
  embeds: ['title', 'description', 'heading', 'text'],
  sources: ['used'],
}

/** The codes of the languages that there are, without English. */
export const otherLanguages = () =>
  existsSync(join(content, 'languages')) ? readdirSync(join(content, 'languages')).sort() : []

/** A language's name in itself: 'Español'. */
export function ownNameOf(code) {
  const name = new Intl.DisplayNames([code], { type: 'language' }).of(code) ?? code
  return name.charAt(0).toLocaleUpperCase(code) + name.slice(1)
}

/**
 * What a language's folder holds.
 *
 * @returns code; messages, file → key → message; data, English → the language's own; files, as 'answers/x.mdx'; addresses of the
 *          pages that are written in it, as they are in English
 * @throws Error for a folder that is not there, or one whose name is no language
 */
export function languageIn(code) {
  const folder = join(content, 'languages', code)
  if (!existsSync(folder))
    throw new Error(`content/languages/${code} is missing; there is ${otherLanguages().join(', ') || 'none'}`)
  if (Intl.PluralRules.supportedLocalesOf(code).length === 0)
    throw new Error(`content/languages/${code}: a folder has the code of a language, such as es or pt-BR`)
  const json = (name) => (existsSync(join(folder, name)) ? JSON.parse(readFileSync(join(folder, name), 'utf8')) : {})
  const data = json('data.json')
  const files = Object.keys(folders).flatMap((name) =>
    existsSync(join(folder, name)) ? readdirSync(join(folder, name)).map((file) => `${name}/${file}`) : [],
  )
  const addresses = files.flatMap((file) => {
    const [name, id] = file.replace(/\.mdx?$/, '').split('/')
    return folders[name](id) ?? []
  })
  return { code, messages: json('messages.json'), data, files, addresses: [...addresses, ...embedsIn(data)] }
}

/** A page for another site's frame is written in a language when its title is. */
const embedsIn = (data) =>
  readdirSync(join(content, 'embeds'))
    .filter((file) => JSON.parse(readFileSync(join(content, 'embeds', file), 'utf8')).title in data)
    .map((file) => `/embed/${file.replace('.json', '')}/`)

/** An address as it is in a language: '/safety/' → '/es/safety/' where the language has the page, else as it is. */
export function addressIn({ code, addresses }, address) {
  const [path] = address.split(/[?#]/)
  return addresses.includes(path) ? `/${code}${address}` : address
}
