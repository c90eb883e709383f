/** The JSON Schemas for editors, by name: made at build time and shipped as `schema/<name>.schema.json`. */
import { editorSchemas } from './read/jsonschema.ts';

/** Name and schema of each file and block an author writes. */
export const schemas = (): Readonly<Record<string, unknown>> => editorSchemas();
