// The scripts of the page that need no page, as modules: from the project's folder, or
// MASKLOFT_PAGE.
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const folder = process.env.MASKLOFT_PAGE || path.join(path.dirname(fileURLToPath(import.meta.url)), '../../export/book/page');

/** Imports one of them by its file name. */
export const module = name => import(pathToFileURL(path.join(folder, name)).href);
