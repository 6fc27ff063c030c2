// For remark: what a lesson says to do, each step down to its first sentence, as `doLines` in the front matter. The card for the van
// is made of them, so that it says what the lessons say, in the site's language. Plain JavaScript.

/** A sentence of fewer words than this says too little alone: the next one comes along. */
const fewestWords = 3

/** Where a sentence ends: its sign, and what closes behind it. */
const end = /[.?!]["”’)\]⟧]*(?=\s|$)/g

/** What stands in the words of a step and is computed or set: its text is made where the card is made. */
const computed = ['Fact', 'Given', 'Length']

const countWords = (text) => text.split(/\s+/).filter(Boolean).length

/** An attribute as an author writes it: name="…", exact, digits={1}. */
const attributeOf = ({ name, value }) => [
  name,
  value === null ? true : typeof value === 'string' ? value : JSON.parse(value.value),
]

/** The first sentence of a paragraph: text, and components by their names with their attributes. */
function firstSentence(paragraph, where) {
  const parts = []
  let words = 0
  /** Whether the sentence has come to its end. */
  const take = (node) => {
    if (node.type === 'text') {
      for (const { index, 0: sign } of node.value.matchAll(end)) {
        const text = node.value.slice(0, index + sign.length)
        if (words + countWords(text) < fewestWords) continue
        parts.push(text)
        return true
      }
      parts.push(node.value)
      words += countWords(node.value)
      return false
    }
    if (node.type === 'mdxJsxTextElement' && computed.includes(node.name)) {
      parts.push({ component: node.name, given: Object.fromEntries(node.attributes.map(attributeOf)) })
      words += 1
      return false
    }
    const isRead = ['paragraph', 'strong', 'emphasis', 'link'].includes(node.type) || node.name === 'Term'
    if (!isRead)
      throw new Error(
        `${where}: the first sentence of a step under Do has ${node.name ?? node.type} in it, which the card for the van cannot print`,
      )
    return node.children.some(take)
  }
  if (!take(paragraph))
    throw new Error(
      `${where}: a step under Do has no end of a sentence: "${parts.filter((part) => typeof part === 'string').join('')}"`,
    )
  return parts
}

/**
 * The steps of the last section of a lesson, which is its Do.
 *
 * @param tree   of a lesson
 * @param where  of its file, for messages
 * @returns      of each step its first sentence, as a list of text and { component, given }
 * @throws Error for a lesson without steps, or a sentence that is not of text and numbers
 */
export function doLinesOf(tree, where) {
  const last = tree.children.findLastIndex(({ type, depth }) => type === 'heading' && depth === 2)
  const steps = tree.children
    .slice(last + 1)
    .filter(({ type, ordered }) => type === 'list' && ordered)
    .flatMap(({ children }) => children)
  if (last < 0 || steps.length === 0)
    throw new Error(`${where}: there are no numbered steps under its last heading, which is Do`)
  return steps.map(({ children: [paragraph] }) => firstSentence(paragraph, where))
}

export function remarkDoLines() {
  return (tree, file) => {
    const path = file.path?.replaceAll('\\', '/') ?? ''
    const lesson = /\/content\/(?:languages\/[^/]+\/)?lessons\/([^/]+)\.mdx$/.exec(path)?.[1]
    if (lesson) file.data.astro.frontmatter.doLines = doLinesOf(tree, `content/lessons/${lesson}.mdx`)
  }
}
