// For rehype: a word of the trade is a button, and beside a button a browser may break the line, even behind an opening bracket. What
// stands against the word without a space is kept on its line. Plain JavaScript.

const isTerm = (node) => node.name === 'Term'

/** A term, or what marks up a term and nothing else. */
const holdsTerm = (node) =>
  isTerm(node) || (node.tagName === 'em' && node.children.length === 1 && isTerm(node.children[0]))

const text = (value) => ({ type: 'text', value })

/** A text cut where its first (or last) word ends (or begins): the space between stays with the rest. */
const cut = (value, at) => [value.slice(0, at), value.slice(at)]

/** The children of a node, each term together with what stands against it. */
function glued(children) {
  const result = []
  for (let index = 0; index < children.length; index++) {
    const node = children[index]
    if (!holdsTerm(node)) {
      result.push(node)
      continue
    }
    const before = result.at(-1)?.type === 'text' ? result.pop().value : ''
    const [rest, opening] = cut(before, before.search(/\S*$/))
    const after = children[index + 1]?.type === 'text' ? children[++index].value : ''
    const [closing, next] = cut(after, after.match(/^\S*/)[0].length)
    if (rest) result.push(text(rest))
    if (opening || closing) {
      const kept = [opening && text(opening), node, closing && text(closing)].filter(Boolean)
      result.push({ type: 'element', tagName: 'span', properties: { className: ['together'] }, children: kept })
    } else result.push(node)
    if (next) result.push(text(next))
  }
  return result
}

export const rehypeGluedTerms = () =>
  function glue(node) {
    node.children?.forEach(glue)
    if (node.children?.some(holdsTerm) && !holdsTerm(node)) node.children = glued(node.children)
  }
