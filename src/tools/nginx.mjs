// Prints a server block for nginx that serves the built site: node src/tools/nginx.mjs [folder] [port].
import { resolve } from 'node:path'
import { nginxServer, policyOf } from './headers.mjs'
import { stop } from './set-up.mjs'

const [folder = 'dist', port = '8080'] = process.argv.slice(2)
try {
  process.stdout.write(nginxServer({ folder: resolve(folder), port: Number(port), policy: policyOf(folder) }))
} catch (error) {
  stop(`${folder} holds no built site: ${error.message}`)
}
