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
