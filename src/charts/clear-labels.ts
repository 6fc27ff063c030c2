import { type LabelAsk, type LabelBox, type LabelShift, type LineSegment, labelPlaces } from './label-places.ts'

/** How far a label may be moved from where its layer puts it, px. */
const reachPx = 130
/** Smaller marks than this are dots on a line, which the line stands for, px. */
const dotPx = 7

type Point = { x: number; y: number }

/** What keepLabelsClear does, once it is fetched. Returns the function that ends it. */
export function clearLabels(drawing: Element): () => void {
  const shapes = new WeakMap<Element, { key: string; points: Point[] }>()
  const lasts = new WeakMap<Element, LabelShift>()
  let frame = 0
  const arrange = () => {
    frame = 0
    measured(drawing, shapes, lasts)?.()
  }
  const soon = () => {
    frame ||= requestAnimationFrame(arrange)
  }
  const changes = new MutationObserver(soon)
  changes.observe(drawing, {
    subtree: true,
    childList: true,
    characterData: true,
    attributeFilter: 'd x y x1 x2 y1 y2 cx cy r width height points transform viewBox text-anchor'.split(' '),
  })
  // Not the drawing's size: it changes while drawings measure themselves, and what is measured in a circle is an error.
  const first = measured(drawing, shapes, lasts)
  let isKnown = first !== undefined
  const shown = new IntersectionObserver(() => {
    // It tells at once how it is, too.
    if (!isKnown) soon()
    isKnown = false
  })
  shown.observe(drawing)
  addEventListener('resize', soon)
  if (document.fonts.status !== 'loaded') document.fonts.ready.then(soon)
  // The first time is the longest: a slow phone can answer in between.
  const timer = setTimeout(() => first?.())
  return () => {
    clearTimeout(timer)
    changes.disconnect()
    shown.disconnect()
    removeEventListener('resize', soon)
    cancelAnimationFrame(frame)
  }
}

/** Looks where everything is, and returns what then puts the labels in their places; undefined where nothing shows. */
function measured(
  drawing: Element,
  shapes: WeakMap<Element, { key: string; points: Point[] }>,
  lasts: WeakMap<Element, LabelShift>,
): (() => void) | undefined {
  const rect = drawing.getBoundingClientRect()
  if (rect.width === 0) return undefined
  const field = drawing.querySelector('[data-frame]')?.getBoundingClientRect() ?? rect
  const labels = [...drawing.querySelectorAll<SVGGraphicsElement>('[data-label], text')].filter(
    (label) => label.textContent?.trim() && label.checkVisibility() && !label.parentElement?.closest('[data-label]'),
  )
  const asks = labels
    // What stays where it is may stand beside the field, as the numbers of an axis do.
    .map((label) => ({
      label,
      ...askOf(label, lasts.get(label)),
      ...(label.closest('[data-fixed]') && { frame: rect }),
    }))
    .sort((one, other) => one.rank - other.rank)
  const { segments, marks } = obstaclesIn(drawing, shapes)
  const { left, top, right, bottom } = field
  return () => {
    const places = labelPlaces(asks, segments, marks, { left, top, right, bottom })
    asks.forEach(({ label, scale }, index) => {
      const place = places[index]
      label.style.visibility = place ? '' : 'hidden'
      if (place) lasts.set(label, place)
      label.style.translate =
        place && (place.x !== 0 || place.y !== 0) ? `${place.x / scale}px ${place.y / scale}px` : ''
    })
  }
}

/** Where a label would stand unmoved, and what may be done with it. */
function askOf(label: SVGGraphicsElement, last: LabelShift | undefined): LabelAsk & { scale: number; rank: number } {
  const outer = DOMMatrix.fromMatrix((label.parentElement as unknown as SVGGraphicsElement).getScreenCTM() ?? {})
  const texts = label instanceof SVGTextElement ? [label] : [...label.querySelectorAll('text')]
  const fixed = label.closest('[data-fixed]') !== null
  const spare = label.closest('[data-spare]') !== null
  return {
    box: boxAround(texts.flatMap((text) => cornersOf(text, outer))),
    reachPx: fixed ? 0 : reachPx,
    spare,
    last,
    scale: Math.hypot(outer.a, outer.b),
    rank: fixed ? (spare ? 1 : 0) : spare ? 4 : label.closest('.handle') ? 2 : 3,
  }
}

/** The corners of a text on the screen. Its line leaves room for accents: that much is cut off. */
function cornersOf(text: SVGTextElement, outer: DOMMatrix): Point[] {
  const bounds = text.getBBox()
  const trim = bounds.height / 7
  const matrix = Array.from({ length: text.transform.baseVal.numberOfItems }, (_, index) =>
    DOMMatrix.fromMatrix(text.transform.baseVal.getItem(index).matrix),
  ).reduce((product, next) => product.multiply(next), outer)
  const [top, bottom] = [bounds.y + trim, bounds.y + bounds.height - trim]
  return [
    new DOMPoint(bounds.x, top),
    new DOMPoint(bounds.x + bounds.width, top),
    new DOMPoint(bounds.x, bottom),
    new DOMPoint(bounds.x + bounds.width, bottom),
  ].map((corner) => corner.matrixTransform(matrix))
}

const boxAround = (points: readonly Point[]): LabelBox => ({
  left: Math.min(...points.map(({ x }) => x)),
  right: Math.max(...points.map(({ x }) => x)),
  top: Math.min(...points.map(({ y }) => y)),
  bottom: Math.max(...points.map(({ y }) => y)),
})

/** Lines as straight pieces, and small marks as boxes, of everything that is drawn and is not ground. */
function obstaclesIn(
  drawing: Element,
  shapes: WeakMap<Element, { key: string; points: Point[] }>,
): { segments: LineSegment[]; marks: LabelBox[] } {
  const segments: LineSegment[] = []
  const marks: LabelBox[] = []
  for (const shape of drawing.querySelectorAll<SVGGeometryElement>('path, line, circle, rect, polygon')) {
    if (shape.closest('[data-ground], clipPath, defs') || !isPainted(shape)) continue
    const matrix = shape.getScreenCTM()
    if (!matrix) continue
    const points = outlineOf(shape, shapes).map(({ x, y }) => ({
      x: matrix.a * x + matrix.c * y + matrix.e,
      y: matrix.b * x + matrix.d * y + matrix.f,
    }))
    if (points.length === 0) continue
    const box = boxAround(points)
    const sizePx = Math.max(box.right - box.left, box.bottom - box.top)
    if (shape.tagName !== 'line' && shape.tagName !== 'path' && sizePx < dotPx) continue
    if (shape.tagName !== 'line' && sizePx < 30) marks.push(box)
    else
      points.slice(1).forEach((point, index) => {
        const { x, y } = points[index] as Point
        segments.push({ x1: x, y1: y, x2: point.x, y2: point.y })
      })
  }
  return { segments, marks }
}

function isPainted(shape: Element): boolean {
  const { stroke, fill, fillOpacity, visibility } = getComputedStyle(shape)
  const clear = (paint: string) => paint === 'none' || paint === 'transparent' || / 0\)$/.test(paint)
  return visibility !== 'hidden' && (!clear(stroke) || (!clear(fill) && Number(fillOpacity) >= 0.3))
}

/** Places along the outline of a shape, in its own coordinates; kept until its geometry changes. */
function outlineOf(shape: SVGGeometryElement, shapes: WeakMap<Element, { key: string; points: Point[] }>): Point[] {
  const key = [...shape.attributes].map(({ value }) => value).join(' ')
  const kept = shapes.get(shape)
  if (kept?.key === key) return kept.points
  const points = tracedOutline(shape)
  shapes.set(shape, { key, points })
  return points
}

function tracedOutline(shape: SVGGeometryElement): Point[] {
  const path = shape.getAttribute('d')
  // Most lines of charts are straight pieces between absolute places: read, not traced, as they change with every drag.
  if (path && /^[MLZ\d\s.,-]*$/.test(path))
    return [...path.matchAll(/(-?[\d.]+)[\s,]+(-?[\d.]+)/g)].map(([, x, y]) => ({ x: Number(x), y: Number(y) }))
  const length = shape.getTotalLength()
  if (!(length > 0)) return []
  const count = shape.tagName === 'line' ? 1 : Math.min(240, Math.max(8, Math.ceil(length / 6)))
  return Array.from({ length: count + 1 }, (_, index) => shape.getPointAtLength((length * index) / count))
}
