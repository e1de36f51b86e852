// The command line: `npm run -s ramble -- walk CHART`.
import { runTypeScript } from './run.mjs';

process.exitCode = runTypeScript('src/cli/main.ts', process.argv.slice(2));
