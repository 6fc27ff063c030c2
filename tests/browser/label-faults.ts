// Every label of every drawing can be read: it lies on no other label, on no line and on no mark, and stays in its drawing.
import type { Page } from '@playwright/test'

/** What is wrong with the labels of the page as it stands, a line for each. */
export const labelFaults = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    /** A label's rim of paper is 2 px or more: so much of a line's breadth, or of a neighbour's rim, hides nothing. */
    const rimPx = 1.5
    type Box = { left: number; right: number; top: number; bottom: number }
    const seen = (element: Element) =>
      element.checkVisibility({ visibilityProperty: true, opacityProperty: true, contentVisibilityAuto: true })
    const boxOf = (text: Element): Box => {
      const { left, right, top, bottom, width, height } = text.getBoundingClientRect()
      // The line of a text leaves room for accents and for what hangs down; digits and most letters fill two thirds of it.
      const upright = /rotate\(-?90\b/.test(text.getAttribute('transform') ?? '')
      const [trimX, trimY] = upright ? [width / 6, 0] : [0, height / 6]
      return { left: left + trimX, right: right - trimX, top: top + trimY, bottom: bottom - trimY }
    }
    const painted = (shape: Element) => {
      const { stroke, strokeOpacity, strokeWidth, fill, fillOpacity } = getComputedStyle(shape)
      const clear = (paint: string, opacity: string) =>
        paint === 'none' || paint === 'transparent' || /, 0\)$|\/ 0\)$/.test(paint) || Number(opacity) < 0.3
      const stroked = !clear(stroke, strokeOpacity) && Number.parseFloat(strokeWidth) > 0
      return stroked || !clear(fill, fillOpacity)
    }
    const pointsOf = (shape: SVGGeometryElement) => {
      const matrix = shape.getScreenCTM()
      const length = shape.getTotalLength()
      if (!matrix || length === 0) return []
      const scale = Math.max(0.01, Math.hypot(matrix.a, matrix.b))
      const count = Math.max(2, Math.ceil((length * scale) / 2))
      return Array.from({ length: count + 1 }, (_, index) =>
        shape.getPointAtLength((length * index) / count).matrixTransform(matrix),
      )
    }
    const found: string[] = []
    const drawings = new Set(
      [...document.querySelectorAll('main svg')].filter(seen).map((svg) => svg.closest('.plan') ?? svg),
    )
    for (const drawing of drawings) {
      const frame = drawing.getBoundingClientRect()
      const name = (
        drawing.getAttribute('aria-label') ??
        drawing.querySelector('[aria-label]')?.getAttribute('aria-label') ??
        '?'
      ).slice(0, 40)
      const labels = [...drawing.querySelectorAll('text')]
        .filter((text) => seen(text) && text.textContent?.trim())
        .map((text) => ({ words: text.textContent?.trim(), box: boxOf(text), text }))
      for (const { words, box } of labels)
        if (
          box.left < frame.left - rimPx ||
          box.right > frame.right + rimPx ||
          box.top < frame.top - rimPx ||
          box.bottom > frame.bottom + rimPx
        )
          found.push(
            `${name}: “${words}” leaves the drawing by ${Math.max(frame.left - box.left, box.right - frame.right, frame.top - box.top, box.bottom - frame.bottom).toFixed(0)} px`,
          )
      labels.forEach((one, index) => {
        for (const other of labels.slice(index + 1)) {
          const across = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left)
          const down = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top)
          if (across > rimPx && down > rimPx) found.push(`${name}: “${one.words}” lies on “${other.words}”`)
        }
      })
      // What lies under everything may be written on: grids, walls, rings and contours, which carry their own numbers.
      const shapes = [
        ...drawing.querySelectorAll<SVGGeometryElement>('path, line, circle, rect, polygon, polyline'),
      ].filter((shape) => !shape.closest('[data-ground], clipPath, defs') && seen(shape) && painted(shape))
      for (const shape of shapes) {
        const points = pointsOf(shape)
        for (const { words, box } of labels) {
          const hit = points.some(
            ({ x, y }) =>
              x > box.left + rimPx && x < box.right - rimPx && y > box.top + rimPx && y < box.bottom - rimPx,
          )
          if (hit)
            found.push(
              `${name}: “${words}” lies on ${shape.tagName}.${shape
                .getAttribute('class')
                ?.replace(/svelte-\S+/, '')
                .trim()}`,
            )
        }
      }
    }
    return found
  })
