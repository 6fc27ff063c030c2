// Turns ICU messages into TypeScript: one small exported arrow function a message, nothing to load at run time.
// Plain JavaScript, because set-up and the site's configuration run it before anything is compiled.
import { parse } from '@messageformat/parser'

/** Words that JavaScript keeps for itself and that therefore name neither a message nor a value. */
const reserved = new Set(
  'await break case catch class const continue debugger default delete do else enum export extends false finally for function if implements import in instanceof interface let new null package private protected public return static super switch this throw true try typeof var void while with yield'.split(
    ' ',
  ),
)

/**
 * The TypeScript of one file of messages.
 *
 * @param {Record<string, string>} messages  key (camelCase) → ICU message; parts between `<tag>` and `</tag>` make it a message in parts
 * @param {{ partsPath: string, inLanguage?: (text: string) => string, other?: { code: string, formatsPath: string } }} to
 *   partsPath: where the generated module finds the type Part; inLanguage: what becomes of each piece of literal text (the
 *   pseudo-language accents it); other: for another language than English, its code and what makes its numbers and plurals
 * @throws Error that begins with the key and says what is wrong
 */
export function messageModule(messages, { partsPath, inLanguage = (text) => text, other }) {
  const writing = other ? inOther(other, inLanguage) : inEnglish(inLanguage)
  const functions = Object.entries(messages).map(([key, message]) => {
    try {
      return messageFunction(key, message, writing)
    } catch (error) {
      throw new Error(`"${key}": ${error.message}`)
    }
  })
  const inParts = functions.some(({ tags }) => tags.length > 0)
  return [
    '// Made from the .json of the same name by src/tools/messages.mjs; changes here are lost.',
    ...(inParts ? [`import type { Part } from '${partsPath}'`] : []),
    ...(other ? [`import { category, shown } from '${other.formatsPath}'`] : []),
    ...functions.map(({ code }) => code),
    '',
  ].join('\n')
}

/** How English writes text, values and grammatical numbers: as they are, for one is 1. */
const inEnglish = (inLanguage) => ({
  categories: ['one', 'other'],
  text: (text) => literal(inLanguage(text)),
  value: (name) => name,
  isCategory: (name) => `${name} === 1`,
})

/** How another language does: numbers and plurals by the browser's own formats. */
const inOther = ({ code }, inLanguage) => ({
  categories: pluralCategories(code),
  text: (text) => literal(inLanguage(text)),
  value: (name) => `shown(${name})`,
  isCategory: (name, key) => `category(${name}) === '${key}'`,
})

function messageFunction(key, message, writing) {
  if (!/^[a-z][a-zA-Z0-9]*$/.test(key) || reserved.has(key)) throw new Error('a key is one word in camelCase')
  if (typeof message !== 'string') throw new Error('a message is a string')
  if (message.trim() === '') throw new Error('the message is empty')
  const root = withTags(parse(message, { cardinal: writing.categories, strict: true }))
  const values = new Map()
  const tags = []
  collect(root, values, tags)
  const parameter =
    values.size === 0
      ? '()'
      : `({ ${[...values.keys()].join(', ')} }: { ${[...values].map(([name, type]) => `${name}: ${type}`).join('; ')} })`
  const body = tags.length > 0 ? partsCode(root, writing) : textCode(root, writing)
  const result = tags.length > 0 ? `Part<${tags.map((tag) => `'${tag}'`).join(' | ')}>[]` : 'string'
  return { tags, code: `export const ${key} = ${parameter}: ${result} => ${body}` }
}

/**
 * What a message asks of who says it: its values with their types and its tags; and its plurals, each with its cases.
 *
 * @param code  of its language, which has its own grammatical numbers
 * @throws      Error that says what is wrong
 */
export function shapeOf(message, code) {
  const root = withTags(parse(message, { cardinal: pluralCategories(code), strict: true }))
  const values = new Map()
  const tags = []
  collect(root, values, tags)
  const plurals = []
  const look = (tokens) => {
    for (const { type, arg, cases = [], tokens: inner = [] } of tokens) {
      if (type === 'plural') plurals.push({ arg, cases: cases.map(({ key }) => key) })
      for (const each of cases) look(each.tokens)
      look(inner)
    }
  }
  look(root)
  return { values, tags, plurals }
}

const pluralCategories = (code) => new Intl.PluralRules(code).resolvedOptions().pluralCategories

/** The parser's tokens of one branch with what stands between <tag> and </tag> gathered under the tag. */
function withTags(tokens) {
  const out = []
  let open
  const add = (token) => (open ? open.tokens : out).push(token)
  for (const token of tokens) {
    if (token.type === 'content') {
      for (const piece of token.value.split(/(<\/?[a-z][a-zA-Z]*>)/)) {
        const [, end, tag] = /^<(\/?)([a-z][a-zA-Z]*)>$/.exec(piece) ?? []
        if (!tag) {
          if (piece !== '') add({ type: 'content', value: piece })
        } else if (!end) {
          if (open) throw new Error(`<${tag}> stands inside <${open.tag}>; tags do not nest`)
          open = { type: 'tag', tag, tokens: [] }
        } else {
          if (open?.tag !== tag) throw new Error(`</${tag}> closes nothing`)
          out.push(open)
          open = undefined
        }
      }
    } else if (token.type === 'argument' || token.type === 'octothorpe') add(token)
    else if (token.type === 'plural' || token.type === 'select') {
      if (token.type === 'plural' && !hasOther(token.cases)) throw new Error(`{${token.arg}, plural} has no other`)
      const cases = token.cases.map(({ key, tokens }) => ({ key, tokens: withTags(tokens) }))
      if (open && cases.some(({ tokens }) => hasTag(tokens))) throw new Error(`tags inside <${open.tag}> do not nest`)
      if (token.pluralOffset) throw new Error('a plural with an offset is not provided for')
      add({ type: token.type, arg: token.arg, cases })
    } else if (token.type === 'function')
      throw new Error(`{${token.arg}, ${token.key}} is not provided for: give the value as text, from src/words`)
    else throw new Error(`{${token.arg}, ${token.type}} is not provided for`)
  }
  if (open) throw new Error(`<${open.tag}> is not closed`)
  return out
}

const hasTag = (tokens) =>
  tokens.some(({ type, cases }) => type === 'tag' || cases?.some(({ tokens: inner }) => hasTag(inner)))

/** Fills in the type of every value and the name of every tag. */
function collect(tokens, values, tags) {
  for (const token of tokens) {
    if (token.type === 'tag') {
      if (!tags.includes(token.tag)) tags.push(token.tag)
      collect(token.tokens, values, tags)
    }
    if (token.arg === undefined) continue
    if (!/^[a-z][a-zA-Z0-9]*$/.test(token.arg) || reserved.has(token.arg))
      throw new Error(`{${token.arg}}: a value's name is one word in camelCase`)
    const type = valueType(token)
    const known = values.get(token.arg)
    const plain = valueType({ type: 'argument' })
    if (known === undefined || known === plain) values.set(token.arg, type)
    else if (type !== known && type !== plain) throw new Error(`{${token.arg}} is used in two ways`)
    for (const { tokens: inner } of token.cases ?? []) collect(inner, values, tags)
  }
}

function valueType({ type, cases }) {
  if (type === 'argument') return 'string | number'
  if (type === 'plural') return 'number'
  const names = namedCases(cases)
  if (names.every(({ key }) => key === 'true' || key === 'false')) {
    if (cases.length !== 2) throw new Error('a choice of true and false has both, or one of them and other')
    return 'boolean'
  }
  return [...names.map(({ key }) => `'${key}'`), ...(hasOther(cases) ? ['(string & {})'] : [])].join(' | ')
}

const namedCases = (cases) => cases.filter(({ key }) => key !== 'other')
/** A choice without `other` says that nothing but the named cases can come. */
const hasOther = (cases) => cases.some(({ key }) => key === 'other')

/** Code of a string. */
function textCode(tokens, writing, plural) {
  const pieces = tokens.map((token) => {
    if (token.type === 'content') return writing.text(token.value)
    if (token.type === 'argument') return `\${${writing.value(token.arg)}}`
    if (token.type === 'octothorpe') return `\${${writing.value(plural)}}`
    return `\${${branches(token, writing, (inner, number) => textCode(inner, writing, number ?? plural))}}`
  })
  const only = tokens.length === 1 ? tokens[0] : undefined
  // A choice that is the whole message needs no template round it.
  if (only?.cases) return branches(only, writing, (inner, number) => textCode(inner, writing, number ?? plural))
  return `\`${pieces.join('')}\``
}

/** Code of a list of parts: strings, and { tag, text } for what stands between tags. */
function partsCode(tokens, writing, plural) {
  const items = []
  let run = []
  const endRun = () => {
    if (run.length > 0) items.push(textCode(run, writing, plural))
    run = []
  }
  for (const token of tokens) {
    if (!hasTag([token])) {
      run.push(token)
      continue
    }
    endRun()
    if (token.type === 'tag') items.push(`{ tag: '${token.tag}', text: ${textCode(token.tokens, writing, plural)} }`)
    else items.push(`...(${branches(token, writing, (inner, number) => partsCode(inner, writing, number ?? plural))})`)
  }
  endRun()
  return `[${items.join(', ')}]`
}

/** A choice as nested conditions, the last case without one. */
function branches({ type, arg, cases }, writing, code) {
  const named = namedCases(cases)
  const other = cases.find(({ key }) => key === 'other')
  const boolean = type === 'select' && valueType({ type, cases }) === 'boolean'
  const last = other ?? named.at(-1)
  const tested = other ? named : named.slice(0, -1)
  const test = (key) => {
    if (boolean) return key === 'true' ? arg : `!${arg}`
    if (type === 'select') return `${arg} === '${key}'`
    return key.startsWith('=') ? `${arg} === ${key.slice(1)}` : writing.isCategory(arg, key)
  }
  const number = type === 'plural' ? arg : undefined
  // Exact numbers come before the grammatical ones, whatever their order in the message.
  const ordered = [...tested].sort((a, b) => Number(b.key.startsWith('=')) - Number(a.key.startsWith('=')))
  const conditions = ordered.map(({ key, tokens }) => `${test(key)} ? ${code(tokens, number)} : `)
  return `${conditions.join('')}${code(last.tokens, number)}`
}

/** Text as it stands inside a template literal. */
const literal = (text) => text.replace(/[\\`]|\$(?=\{)/g, '\\$&').replaceAll('\n', '\\n')
