// node bundle.mjs ENTRY OUT: the page's script with the libraries that draw its charts, in one
// file, and beside it the hash under which the page's security policy knows it.
import {createHash} from 'node:crypto';
import {writeFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import path from 'node:path';

const [entry, out] = process.argv.slice(2);
const {build} = createRequire(path.resolve('package.json'))('esbuild');
const made = await build({
  entryPoints: [entry],
  absWorkingDir: process.cwd(),
  nodePaths: [path.resolve('node_modules')],
  bundle: true,
  minify: true,
  format: 'iife',
  target: 'es2022',
  charset: 'ascii',
  legalComments: 'none',
  write: false,
});
// Inside an HTML page no text of a script may look like its end or like a comment.
const script = made.outputFiles[0].text.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--');
writeFileSync(out, script);
writeFileSync(`${out}.sha256`, createHash('sha256').update(script).digest('base64'));
