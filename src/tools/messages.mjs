// Keeps <name>.messages.ts beside every <name>.messages.json: what a reader is told, as typed functions.
// Runs in set-up, in the site's configuration and in the tests; alone: node src/tools/messages.mjs. Plain JavaScript.
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { argv } from 'node:process'
import { fileURLToPath } from 'node:url'
import { messageModule } from './message-code.mjs'

const source = fileURLToPath(new URL('..', import.meta.url))
const partsFile = join(source, 'words/parts.ts')
const formatsFile = join(source, 'words/in-language.ts')

/** All files of messages, with their generated modules; a module whose messages are gone is listed with no json. */
function files() {
  const all = readdirSync(source, { recursive: true }).filter((file) => /\.messages\.(json|ts)$/.test(file))
  return [...new Set(all.map((file) => file.replace(/\.(json|ts)$/, '')))].map((file) => join(source, file))
}

/** Writes what is new, deletes what has no messages any more, leaves the rest alone. @throws Error that names file, key and reason */
export function writeMessages() {
  for (const file of files()) {
    if (!existsSync(`${file}.json`)) rmSync(`${file}.ts`)
    else writeIfNew(`${file}.ts`, moduleOf(`${file}.json`))
  }
}

function writeIfNew(file, text) {
  if (!existsSync(file) || readFileSync(file, 'utf8') !== text) writeFileSync(file, text)
}

/**
 * The TypeScript of one file of messages.
 *
 * @param {string} jsonFile
 * @param {{ inLanguage?: (text: string) => string, language?: { code: string, messages: Record<string, Record<string, string>> } }} from
 *   inLanguage: turns each piece of literal text into another language; language: another than English, whose messages stand in place
 *   of those that it has, and whose numbers and plurals in all
 */
export function moduleOf(jsonFile, { inLanguage, language } = {}) {
  const named = (error) => new Error(`${relative(join(source, '..'), jsonFile)}: ${error.message}`)
  try {
    const partsPath = pathFrom(jsonFile, partsFile)
    const english = JSON.parse(readFileSync(jsonFile, 'utf8'))
    if (!language) return messageModule(english, { partsPath, inLanguage })
    const own = language.messages[fileOfMessages(jsonFile)] ?? {}
    const messages = Object.fromEntries(Object.entries(english).map(([key, message]) => [key, own[key] ?? message]))
    const other = { code: language.code, formatsPath: pathFrom(jsonFile, formatsFile) }
    return messageModule(messages, { partsPath, other })
  } catch (error) {
    throw named(error)
  }
}

function pathFrom(file, target) {
  const path = relative(dirname(file), target).replaceAll('\\', '/')
  return path.startsWith('.') ? path : `./${path}`
}

/** The name of a file of messages in a language's own file: 'widgets/walk-round/walk-round'. */
export const fileOfMessages = (jsonFile) =>
  relative(source, jsonFile).replaceAll('\\', '/').replace('.messages.json', '')

/** For Vite: a change of messages reaches the page while it is being written. */
export function messagesPlugin() {
  return {
    name: 'messages',
    buildStart: writeMessages,
    configureServer({ watcher, config }) {
      const rewrite = (file) => {
        if (!file.endsWith('.messages.json')) return
        try {
          writeMessages()
        } catch (error) {
          config.logger.error(error.message)
        }
      }
      for (const event of ['add', 'change', 'unlink']) watcher.on(event, rewrite)
    },
  }
}

if (argv[1] === fileURLToPath(import.meta.url)) {
  try {
    writeMessages()
  } catch (error) {
    console.error(error.message)
    process.exitCode = 1
  }
}
