// The built site behind nginx on loopback, by the server block that `npm run nginx` prints: for the test of its headers and the bench of load.
import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { nginxServer, policyOf } from '../src/tools/headers.mjs'
import { freePort } from '../src/tools/set-up.mjs'

/** How long it may take to come up, and how often it is asked, ms. */
const [patienceMs, pauseMs] = [30_000, 50]

export type Nginx = { origin: string; stop(): Promise<void> }

/**
 * Resolves once it answers.
 *
 * @param program  path of nginx
 * @param site     folder of a built site
 * @param port     where a free one is looked for
 * @throws Error   with what nginx says, if it does not come up
 */
export async function startNginx(program: string, site: string, port: number): Promise<Nginx> {
  const folder = mkdtempSync(join(tmpdir(), 'round-the-back-nginx-'))
  const at = await freePort(port)
  const paths = ['client_body', 'proxy', 'fastcgi', 'uwsgi', 'scgi']
  writeFileSync(
    join(folder, 'nginx.conf'),
    `daemon off; pid ${folder}/pid; error_log stderr; worker_processes 1; events {} http { access_log off;
    ${paths.map((name) => `${name}_temp_path ${folder}/${name};`).join(' ')}
    ${nginxServer({ folder: site, port: at, policy: policyOf(site) })} }`,
  )
  // Started as root it would serve as somebody who may not read the project's folder.
  const user = process.getuid?.() === 0 ? ['-g', 'user root;'] : []
  const server = spawn(program, ['-p', folder, '-c', join(folder, 'nginx.conf'), ...user])
  let said = ''
  server.stderr.on('data', (text) => (said += text))
  const ended = new Promise<void>((done) => server.on('close', () => done()))
  const stop = async () => {
    server.kill()
    await ended
    rmSync(folder, { recursive: true })
  }
  const origin = `http://localhost:${at}`
  for (const untilMs = Date.now() + patienceMs; ; await pause(pauseMs)) {
    const isUp = await fetch(origin).then(
      () => true,
      () => false,
    )
    if (isUp) return { origin, stop }
    if (Date.now() > untilMs || server.exitCode !== null) {
      await stop()
      throw new Error(`nginx does not come up: ${said}`)
    }
  }
}
