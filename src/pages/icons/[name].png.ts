// The pictures of the icon that a device wants which installs the site.
import type { APIRoute, GetStaticPaths } from 'astro'
import { iconPng } from '../../layouts/icon-png.ts'
import { type IconName, icons } from '../../layouts/icons.ts'

export const getStaticPaths = (() => Object.keys(icons).map((name) => ({ params: { name } }))) satisfies GetStaticPaths

export const GET: APIRoute = async ({ params }) =>
  new Response(new Uint8Array(await iconPng(params.name as IconName)), { headers: { 'Content-Type': 'image/png' } })
