// For remark: a translated page keeps the addresses of the English page's headings, because links, questions and readers' own
// bookmarks lead to them. Headings are told by their order. Plain JavaScript.
import { readFileSync } from 'node:fs'
import GithubSlugger from 'github-slugger'

const ofLanguage = /\/content\/languages\/[^/]+\/(.+\.mdx?)$/

/**
 * The headings of a page of content: how deep each is, and its address as the site gives it.
 *
 * @param text  MDX or Markdown
 */
export function headingsIn(text) {
  const slugger = new GithubSlugger()
  const words = text.replace(/^---\n.*?\n---\n/s, '').replace(/^```.*?^```/gms, '')
  return [...words.matchAll(/^(#{1,6})\s+(.*)$/gm)].map(([, signs, title]) => ({
    depth: signs.length,
    anchor: slugger.slug(title.replace(/<[^>]*>|[*_`]/g, '').trim()),
  }))
}

/** @throws Error if a page has more or fewer headings than the English one, or others in depth */
export function headingAnchors() {
  return (tree, file) => {
    const path = file.path?.replaceAll('\\', '/') ?? ''
    const [, name] = ofLanguage.exec(path) ?? []
    if (!name) return
    const english = headingsIn(readFileSync(path.replace(/languages\/[^/]+\//, ''), 'utf8'))
    const own = []
    const visit = (node) => {
      if (node.type === 'heading') own.push(node)
      for (const child of node.children ?? []) visit(child)
    }
    visit(tree)
    const depths = (headings) => headings.map(({ depth }) => depth).join(' ')
    if (depths(own) !== depths(english))
      throw new Error(
        `${path}: its headings are of the depths ${depths(own) || 'none'}; those of content/${name} are ${depths(english) || 'none'}, and links lead to them`,
      )
    for (const [index, { anchor }] of english.entries()) {
      own[index].data = { ...own[index].data, hProperties: { ...own[index].data?.hProperties, id: anchor } }
    }
  }
}
