// Gets a fresh clone ready: packages from the lock file, and Node 24 from them in front on the path.
// Plain JavaScript for Node 20, no packages: it runs before anything is installed.
import { spawn, spawnSync } from 'node:child_process'
import { existsSync, statSync } from 'node:fs'
import { createServer } from 'node:net'
import { delimiter, join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const projectRoot = fileURLToPath(new URL('../..', import.meta.url))
const binFolder = join(projectRoot, 'node_modules', '.bin')
const onWindows = process.platform === 'win32'

/** The environment every tool runs in: the project's own Node first, no telemetry, no update notices. */
export function toolEnvironment(extra = {}) {
  const path = process.env.PATH ?? process.env.Path ?? ''
  return {
    ...process.env,
    PATH: [binFolder, path].join(delimiter),
    ASTRO_TELEMETRY_DISABLED: '1',
    DO_NOT_TRACK: '1',
    NO_UPDATE_NOTIFIER: '1',
    ...extra,
  }
}

/**
 * Installs what is missing and brings the generated messages up to date; leaves an up-to-date checkout alone.
 * Exits with a plain message on failure.
 */
export async function setUp() {
  const major = Number(process.versions.node.split('.')[0])
  if (major < 20) stop(`Round the Back needs Node 20 or newer to set itself up; this is Node ${process.versions.node}.`)
  if (installIsNeeded()) {
    console.log('Installing packages from the lock file (once, a minute or so) …')
    const npm = spawnSync('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error'], {
      cwd: projectRoot,
      stdio: ['ignore', 'ignore', 'inherit'],
      shell: onWindows,
      env: toolEnvironment({ PATH: process.env.PATH ?? process.env.Path ?? '' }),
    })
    if (npm.status !== 0) stop('The packages could not be installed. Is the npm registry within reach? Then try again.')
  }
  const version = spawnSync('node', ['--version'], {
    env: toolEnvironment(),
    encoding: 'utf8',
    shell: onWindows,
  }).stdout.trim()
  const [have, minor] = version.slice(1).split('.').map(Number)
  if (have < 22 || (have === 22 && minor < 12)) {
    stop(
      `No packaged Node 24 for ${process.platform}-${process.arch}, and the installed one is ${version}. Install Node 22.12 or newer.`,
    )
  }
  // Only now are the packages there that it needs.
  const { writeMessages } = await import('./messages.mjs')
  try {
    writeMessages()
  } catch (error) {
    stop(error.message)
  }
}

function installIsNeeded() {
  const installed = join(projectRoot, 'node_modules', '.package-lock.json')
  return (
    !existsSync(installed) || statSync(installed).mtimeMs < statSync(join(projectRoot, 'package-lock.json')).mtimeMs
  )
}

/** The first free port from the wanted one on; says so when the wanted one is taken. */
export async function freePort(wanted) {
  for (let port = wanted; port < wanted + 100; port++) {
    if (await portIsFree(port)) {
      if (port !== wanted) console.log(`Port ${wanted} is busy; using ${port}.`)
      return port
    }
  }
  return stop(`No free port between ${wanted} and ${wanted + 99}.`)
}

/** A port is free when nobody listens on it under either of localhost's two addresses. */
async function portIsFree(port) {
  for (const host of ['127.0.0.1', '::1']) {
    const free = await new Promise((resolve) => {
      const server = createServer()
      server.once('error', (error) => resolve(error.code !== 'EADDRINUSE'))
      server.listen(port, host, () => server.close(() => resolve(true)))
    })
    if (!free) return false
  }
  return true
}

/** Runs one tool of node_modules/.bin and resolves to its exit code. An abort signal ends it. */
export function run(tool, args, { env = {}, stdio = 'inherit', signal } = {}) {
  return new Promise((resolve) => {
    const child = spawn(tool, args, { cwd: projectRoot, stdio, env: toolEnvironment(env), shell: onWindows, signal })
    child.on('error', () => resolve(127))
    child.on('close', (code) => resolve(code ?? 1))
  })
}

/** The same, kept quiet: resolves to the exit code and all that the tool said. */
export function runQuietly(tool, args, { env = {} } = {}) {
  return new Promise((resolve) => {
    const child = spawn(tool, args, { cwd: projectRoot, env: toolEnvironment(env), shell: onWindows })
    let said = ''
    for (const stream of [child.stdout, child.stderr])
      stream.setEncoding('utf8').on('data', (text) => {
        said += text
      })
    child.on('error', () => resolve({ code: 127, said }))
    child.on('close', (code) => resolve({ code: code ?? 1, said }))
  })
}

/** Prints a message for people and ends with an error. */
export function stop(message) {
  console.error(message)
  process.exit(1)
}
