// The headers that go with what is served: one place for the project's own server, for hosts that read a `_headers` file, and for nginx.
import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

/** The pages that use a microphone, in every language; no other one may ask for it. */
export const recordingPages = ['/compare/', '/walk/']

const denied = 'camera=(), geolocation=(), payment=(), usb=()'
const year = 365 * 24 * 60 * 60
/** What has a hash of its content in its name never changes. All else is asked for again: the answer is mostly 304, nothing new. */
const cacheControl = { hashed: `public, max-age=${year}, immutable`, other: 'no-cache' }

/** The address of every page of a built site, '/' first and last, in order. */
export const pagesOf = (folder) =>
  globSync('**/index.html', { cwd: folder })
    .map((file) => `/${file.replaceAll('\\', '/').replace(/index\.html$/, '')}`)
    .sort()

/**
 * The Content Security Policy that the pages of a built site carry, with every hash that one of them names. A page's own stands in its
 * head too, for hosts that send no headers; as a header it holds for workers as well.
 *
 * @throws  if a page carries none
 */
export function policyOf(folder) {
  const directives = new Map()
  for (const file of globSync('**/*.html', { cwd: folder })) {
    const html = readFileSync(join(folder, file), 'utf8')
    const [, policy] = /<meta http-equiv="content-security-policy" content="([^"]*)"/i.exec(html) ?? []
    if (!policy) throw new Error(`${file} carries no Content Security Policy`)
    for (const part of policy.split(';')) {
      const [name, ...sources] = part.trim().split(/\s+/)
      if (name) directives.set(name, new Set([...(directives.get(name) ?? []), ...sources]))
    }
  }
  return [...directives].map(([name, sources]) => [name, ...sources].join(' ')).join('; ')
}

/** What goes with everything. */
const common = (policy) => ({
  'Content-Security-Policy': policy,
  'X-Content-Type-Options': 'nosniff',
  // Links carry what a reader has set: no other site is told.
  'Referrer-Policy': 'same-origin',
})

/** Before the path of a page that is in another language than English; as nginx reads it, too. */
const languagePart = '(/[a-z]{2,3}(-[A-Z][A-Za-z]+)?)?'
const isFramed = (path) => new RegExp(`^${languagePart}/embed/`).test(path)
const isRecording = (path) => recordingPages.some((page) => new RegExp(`^${languagePart}${page}$`).test(path))
const isHashed = (path) => path.startsWith('/_astro/')
/** A policy more, which cannot stand in a page's head; several policies hold together. */
const framePolicy = (path) => (isFramed(path) ? 'frame-ancestors *' : "frame-ancestors 'none'")
const permissions = (path) => `${denied}, microphone=${isRecording(path) ? '(self)' : '()'}`

/**
 * Every header for an address.
 *
 * @param path    decoded, without query
 * @param policy  of the site, from policyOf
 */
export const headersFor = (path, policy) => ({
  ...common(policy),
  'Content-Security-Policy': [policy, framePolicy(path)],
  'Permissions-Policy': permissions(path),
  'Cache-Control': isHashed(path) ? cacheControl.hashed : cacheControl.other,
})

/**
 * The `_headers` file that many hosts of static sites read. Where several rules meet, their values are joined; so what all have stands
 * once, and what differs is added by folder; no two of those meet. What lies at no page's address may have no frame policy there.
 */
export function hostHeaders(pages, policy) {
  const rule = (path, headers) =>
    [path, ...Object.entries(headers).map(([name, value]) => `  ${name}: ${value}`)].join('\n')
  return [
    rule('/*', common(policy)),
    rule('/_astro/*', { 'Cache-Control': cacheControl.hashed }),
    ...pageRules('/', pages).map(([path, page]) =>
      rule(path, { 'Content-Security-Policy': framePolicy(page), 'Permissions-Policy': permissions(page) }),
    ),
    '',
  ].join('\n')
}

/** The fewest rules for the pages of a folder: [path of the rule, a page that it holds for]. Hosts allow a hundred. */
function pageRules(folder, pages) {
  const [first, ...others] = pages.filter((path) => path.startsWith(folder))
  const differs = (path) => framePolicy(path) !== framePolicy(first) || permissions(path) !== permissions(first)
  // Not for the whole site: what it has besides pages is not theirs.
  if (folder !== '/' && !others.some(differs)) return [[others.length > 0 ? `${folder}*` : first, first]]
  const below = [first, ...others]
    .filter((path) => path !== folder)
    .map((path) => `${folder}${path.slice(folder.length).split('/')[0]}/`)
  const own = [first, ...others].includes(folder) ? [[folder, folder]] : []
  return [...own, ...[...new Set(below)].flatMap((each) => pageRules(each, pages))]
}

/**
 * A server block for nginx with the same headers, the files compressed at build and the site's own page for no address.
 *
 * @param folder  of the built site, absolute
 */
export function nginxServer({ folder, port, policy }) {
  const quoted = (value) => `"${value}"`
  return `# Goes into nginx's http block; made anew with every build, because the policy names what the pages hold.
map $uri $frame_policy {
  default ${quoted(framePolicy('/'))};
  ${quoted(`~^${languagePart}/embed/`)} ${quoted(framePolicy('/embed/'))};
}
map $uri $permissions_policy {
  default ${quoted(permissions('/'))};
  ${recordingPages.map((page) => `${quoted(`~^${languagePart}${page}(index\\.html)?$`)} ${quoted(permissions(page))};`).join('\n  ')}
}
map $uri $cache_policy {
  default ${quoted(cacheControl.other)};
  ~^/_astro/ ${quoted(cacheControl.hashed)};
}
server {
  listen ${port};
  root ${quoted(folder)};
  server_tokens off;
  absolute_redirect off;
  gzip_static on;
  gzip_vary on;
  types {
    text/html html;
    text/css css;
    text/javascript js;
    application/json json;
    application/manifest+json webmanifest;
    application/xml xml;
    image/svg+xml svg;
    image/png png;
    font/woff2 woff2;
    font/woff woff;
    font/ttf ttf;
  }
  default_type application/octet-stream;
  charset utf-8;
  charset_types text/css text/javascript application/json application/xml;
  error_page 404 /404.html;
${Object.entries({ ...common(policy), 'Permissions-Policy': '$permissions_policy', 'Cache-Control': '$cache_policy' })
  .concat([['Content-Security-Policy', '$frame_policy']])
  .map(([name, value]) => `  add_header ${name} ${quoted(value)} always;`)
  .join('\n')}
  location = /_headers {
    return 404;
  }
}
`
}
