// For Astro: where a build keeps what its pages compute (src/widgets/at-build), for the next build of the same files. Plain JavaScript.
import { createHash } from 'node:crypto'
import { globSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { env, version } from 'node:process'
import { projectRoot } from './set-up.mjs'

/** Whatever a number can come from: code, data, checks, packages. What is generated comes from these. */
const sources = ['src/**/*', 'content/**/*', 'tests/evidence/**/*', 'package-lock.json', 'astro.config.mjs']

/** The fingerprint of every file that an answer can come from, and of the Node that computes it. */
export function sourcesPrint(folder = projectRoot) {
  const hash = createHash('sha256').update(`${version} ${process.arch}`)
  const files = globSync(sources, { cwd: folder, withFileTypes: true })
    .filter((entry) => entry.isFile() && !entry.name.endsWith('.messages.ts'))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
  for (const file of files) {
    const bytes = readFileSync(file)
    hash.update(`\n${file.slice(folder.length)} ${bytes.length}\n`).update(bytes)
  }
  return hash.digest('hex').slice(0, 32)
}

/**
 * Answers are kept in a folder named after the files that they come from, so that none outlives a change. What a build computes goes there
 * when it is done and the files are still what they were when it began; answers of other files are deleted.
 *
 * @param folder  of the project
 * @param kept    where the answers of all builds stand
 */
export function keptAnswers(folder = projectRoot, kept = join(folder, 'node_modules', '.cache', 'kept-answers')) {
  let print = ''
  let fresh = ''
  return {
    name: 'kept-answers',
    hooks: {
      'astro:config:setup': ({ command }) => {
        delete env.KEPT_ANSWERS
        delete env.NEW_ANSWERS
        if (command !== 'build') return
        print = sourcesPrint(folder)
        mkdirSync(kept, { recursive: true })
        fresh = mkdtempSync(join(kept, '.new-'))
        env.KEPT_ANSWERS = join(kept, print)
        env.NEW_ANSWERS = fresh
      },
      'astro:build:done': () => {
        if (sourcesPrint(folder) === print) {
          const target = join(kept, print)
          mkdirSync(target, { recursive: true })
          for (const name of readdirSync(fresh)) renameSync(join(fresh, name), join(target, name))
          for (const name of readdirSync(kept))
            if (name !== print && !name.startsWith('.new-')) rmSync(join(kept, name), { recursive: true, force: true })
        }
        rmSync(fresh, { recursive: true, force: true })
      },
    },
  }
}
