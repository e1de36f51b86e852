// The command line in a checkout: `npm run -s ramble -- walk CHART`. It runs the bundle in this very process, so that what
// ends this ends it, and builds it first where the sources are newer.
import { pathToFileURL } from 'node:url';
import { bundle, isFresh, makeBundle } from './bundle.mjs';

if (!isFresh()) await makeBundle();
// npm runs scripts in the project's folder; paths are meant from where it was called.
if (process.env.npm_lifecycle_event === 'ramble' && process.env.INIT_CWD) process.chdir(process.env.INIT_CWD);
await import(pathToFileURL(bundle).href);
