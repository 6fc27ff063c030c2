import { getEntry, render } from 'astro:content'

/**
 * The words of one page of the site, from content/pages.
 *
 * @param name  of its file there, without the ending
 * @returns     title, description, lede and whatever else its file names, and `body`, the MDX, and `Content`, that rendered
 * @throws Error if there is no such file
 */
export async function wordsOfPage(name: string) {
  const entry = await getEntry('pages', name)
  if (!entry) throw new Error(`content/pages/${name}.mdx is missing: it holds the words of that page`)
  return { ...entry.data, body: entry.body ?? '', ...(await render(entry)) }
}

/**
 * The words of a page that is a tool: besides what every page has, how it opens.
 *
 * @throws Error if there is no such file, or heading, lede or withoutScript is missing in it
 */
export async function wordsOfTool(name: string) {
  const words = await wordsOfPage(name)
  const { heading, lede, withoutScript } = words
  if (!heading || !lede || !withoutScript) {
    throw new Error(`content/pages/${name}.mdx: a tool's page opens with heading, lede and withoutScript`)
  }
  return { ...words, heading, lede, withoutScript }
}
