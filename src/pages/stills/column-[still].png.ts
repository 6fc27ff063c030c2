// The first pictures of the column as PNGs, made at build: what is seen without JavaScript and until the live ones are there.
import type { APIRoute, GetStaticPaths } from 'astro'
import { columnPicture } from '../../engine/questions/column/column-picture.ts'
import { levelStill } from '../../layouts/still-png.ts'
import { defaultState } from '../../state/share-link.ts'
import { columnLink, columnOf } from '../../widgets/column/column-link.ts'
import { columnExtent, columnGrid, columnStillName, columnStillsHz } from '../../widgets/column/column-views.ts'

type View = 'side' | 'top'

export const getStaticPaths = (() =>
  columnStillsHz.flatMap((frequencyHz) =>
    (['side', 'top'] satisfies View[]).map((view) => ({
      params: { still: columnStillName(view, frequencyHz) },
      props: { view, frequencyHz },
    })),
  )) satisfies GetStaticPaths

export const GET: APIRoute<{ view: View; frequencyHz: number }> = ({ props: { view, frequencyHz } }) => {
  const column = columnOf(defaultState(columnLink))
  const grid = columnGrid(columnExtent(column), view)
  const picture = columnPicture({ column, frequencyHz, view, kind: 'levels', grid })
  if (picture.kind !== 'levels') throw new Error('A still of the column shows levels')
  return levelStill(picture)
}
