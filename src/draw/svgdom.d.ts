/** The part of svgdom that the writer uses; the package has no types of its own. */
declare module 'svgdom' {
  export function createSVGWindow(): { readonly document: { readonly documentElement: never } };
}
