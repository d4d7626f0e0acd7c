// What an editor shows of the schemas: what it offers, what it says of keys and words, and what it says
// of what does not fit. Expected words are those of facts.yaml, words.yaml and the reader.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';

import { Editor } from './session.js';

const project = fileURLToPath(new URL('../..', import.meta.url));
let editor;
let folder;

before(async () => {
  folder = await mkdtemp(join(tmpdir(), 'editors-'));
  await cp(join(project, 'schemas'), join(folder, 'schemas'), { recursive: true });
  editor = await Editor.start(folder);
});

after(async () => {
  await editor.stop();
  await rm(folder, { recursive: true });
});

/** Puts the schema of a document for rulesets in force beside the others. */
async function inForce(name, ...rulesets) {
  const options = rulesets.flatMap((one) => ['--rules', one]);
  const schema = execFileSync(process.env.CELLRULES, ['schema', name, ...options]);
  await writeFile(join(folder, `schemas/${name}-in-force.schema.json`), schema);
}

/** A document with its schema in its first line. */
const of = (schema, text) => `# yaml-language-server: $schema=schemas/${schema}.schema.json\n${text}`;
const plan = (text) => of('proposal', `format: 1\narrangement: 1S1P\n${text}`);
const rules = (text) => of('ruleset', `format: 1\nruleset: our-club\nversion: 1.0.0\ntitle: Our club\n${text}`);
const caution = (text) => rules(`cautions:\n  - id: short-leg\n    ${text}`);

/** The words beside what is offered. */
function words(item) {
  assert.ok(item, 'it is not offered');
  return item.documentation?.value ?? item.documentation ?? '';
}

/** The messages on a document, by the text that each is about. */
async function said(text) {
  const messages = await editor.messages(text);
  for (const { message } of messages) {
    assert.doesNotMatch(message, /[\^\\[\]]|\$$|does not match/, 'a pattern is no message');
  }
  return Object.fromEntries(messages.map(({ at, message }) => [at, message]));
}

const demo = (name) => readFile(join(project, 'rules-cli/demo', name), 'utf8');

test('documents of the demonstration have no messages', async () => {
  const files = [
    ['proposal', 'helmet-lamp.yaml'],
    ['proposal', 'marshal-torch.yaml'],
    ['bench', 'club/bench.yaml'],
    ['bench-proposal', 'club/start-hut.yaml'],
    ['bench-proposal', 'club/marshal-torch.yaml'],
  ];
  for (const [schema, name] of files) {
    assert.deepEqual(await said(of(schema, await demo(name))), {}, name);
  }
  const shipped = await readFile(join(project, 'rulesets/rescued-cells.yaml'), 'utf8');
  assert.deepEqual(await said(of('ruleset', shipped)), {});
});

test('a key tells the schema as a comment does', async () => {
  const text = '$schema: schemas/proposal.schema.json\nformat: 1\narrangement: 1S1P\nlight: { bays: many }\n';
  assert.deepEqual(Object.keys(await said(text)), ['many']);
});

test('a record opens with its schema', async () => {
  const check = ['check', '--format', 'json', join(project, 'rules-cli/demo/marshal-torch.yaml')];
  const record = execFileSync(process.env.CELLRULES, check, { encoding: 'utf8' });
  assert.deepEqual(await said(of('report', record)), {});
  const verdict = await editor.hover(of('report', record.replace('"verdict"', '"verd|ict"')));
  assert.match(verdict, /Nothing speaks against it that the rules know of/);
  const wrong = await said(of('report', record.replace('"format": 1', '"format": 2')));
  assert.deepEqual(wrong, { 2: 'Value must be 1.' });
});

test('keys are offered with what they mean', async () => {
  const top = await editor.completion(of('proposal', 'format: 1\n|'));
  for (const key of ['title', 'arrangement', 'light', 'cells', 'packs', 'meters', 'charging', '$schema']) {
    assert.ok(top.has(key), key);
  }
  const rest = await editor.completion(plan('cells:\n  - id: K4\n    rest:\n      |'));
  assert.deepEqual([...rest.keys()].sort(), ['after', 'voltage']);
  assert.match(words(rest.get('voltage')), /^Voltage at rest\. Measured, within -5\.\.6 V\.$/);
  assert.equal(rest.get('after').insertText, 'after: ');
  const bench = await editor.completion(of('bench', 'format: 1\nbench: Clubhouse\n|'));
  for (const key of ['kinds', 'testers', 'chargers', 'lights', 'places', 'tables']) {
    assert.ok(bench.has(key), key);
  }
});

test('options are offered, each with what it means', async () => {
  const contacts = await editor.completion(plan('light:\n  contacts: |'));
  assert.deepEqual([...contacts.keys()], ['springs', 'buttons', 'ring', 'fixed-magnet', 'loose-magnet']);
  assert.equal(words(contacts.get('fixed-magnet')), 'A magnet that the light holds');
  const fit = await editor.completion(plan('light:\n  fit: |'));
  assert.equal(words(fit.get('springs-alone')), '`contacts: springs`, `spacer: none`');
});

test('what a ruleset is about is offered, and facts by name', async () => {
  const about = await editor.completion(caution('about: |'));
  assert.equal(words(about.get('each cell')), 'One cell');
  const given = await editor.completion(caution('cases:\n      - given:\n          |'));
  assert.match(words(given.get('cell.rest_voltage')), /^Voltage at rest/);
  const missing = await editor.completion(caution('cases:\n      - unmeasured:\n          - |'));
  assert.equal(words(missing.get('cell.capacity')), 'Capacity given on a discharge test');
});

test('maps, keys and words say what they are', async () => {
  const cell = (text) => editor.hover(plan(`cells:\n  - id: K4\n    ${text}\n`));
  assert.match(await cell('re|st: { voltage: 3.7 V }'), /Voltage at rest, and how long the cell had rested/);
  assert.match(await cell('capa|city: { value: 2 Ah }'), /A discharge test from full, what it gave/);
  assert.match(await cell('rest: { aft|er: 3 h }'), /Time since the last charge or load/);
  assert.match(await editor.hover(plan('light:\n  cut_|off: 3 V\n')), /at which the light switches itself off/);
  assert.match(await editor.hover(plan('light:\n  dr|aw: 3 W\n')), /Highest current or power the light takes/);
  const option = await editor.hover(plan('light:\n  contacts: spr|ings\n'));
  assert.match(option, /`springs`: Springs press on both ends of the cell/);
});

test('messages say what to write', async () => {
  const found = await said(of('proposal', `format: 1
arrangement: 2X
light: { draw: 5, contacts: spring, cut_off: 3, input: { max: 8.4 A } }
cells:
  - id: "a*b"
    rest: { voltage: 3.7 }
    size: { code: AA }
    bogus: 1
`));
  assert.deepEqual(found, {
    '2X': 'write it as `1S1P`, `2S1P`, `1S2P`, `2S2P`',
    5: 'write it as `1.2 A` or `7.5 W`',
    spring: 'Value is not accepted. Valid values: "springs", "buttons", "ring", "fixed-magnet", "loose-magnet".',
    3: 'write it as `2.5 V` or `none`',
    '8.4 A': 'A voltage; write it in V or mV, as `2.5 V`. A tolerance may follow, or it may be a range.',
    '"a*b"': 'an id is made of letters, digits, spaces and `- _ . / # +`',
    3.7: 'A voltage; write it in V or mV, as `2.5 V`. A tolerance may follow, or it may be a range.',
    AA: 'write it as `18650`, `21700`, `19/66`',
    bogus: 'Property bogus is not allowed.',
  });
});

test('numbers, ranges and lists that cannot be are refused', async () => {
  const found = await said(plan('conditions: { ambient: 600 degC }\nlight: { input: { max: 8.4..4.2 V } }\n'));
  assert.deepEqual(found, {
    '600 degC': 'the possible values are -60..90 degC: check the unit and the decimal point',
    '8.4..4.2 V': 'this range goes from more to less: write the smaller number first',
  });
  const twice = await said(of('bench-proposal', 'format: 1\nbench: ./bench.yaml\ncells: [K4, K7, K4]\n'));
  assert.deepEqual(twice, { '[K4, K7, K4]': 'Array has duplicate items.' });
});

test('rulesets are told in words too', async () => {
  const found = await said(rules(`facts:
  lamp: { kind: yes-no, meaning: A lamp }
limits:
  "a-b": { value: 3 V, stricter: higher, meaning: A limit }
cautions:
  - id: short leg
    title: Too little left
    about: every cell
    refuse_unless: cell.capacity >= 2 Ah
    reason: x
    basis: []
`));
  assert.match(found.lamp, /^write `subject\.name`, with one of the subjects light/);
  assert.equal(found['"a-b"'], 'use up to 64 letters, digits and underscores, starting with a letter');
  assert.equal(found['short leg'], 'use up to 64 letters, digits and hyphens, starting with a letter');
  assert.match(found['every cell'], /^Value is not accepted. Valid values: "light"/);
});

test('a ruleset that rests on others is offered their names', async () => {
  await inForce('ruleset', 'rescued-cells');
  const club = (text) =>
    of('ruleset-in-force', `format: 1\nruleset: our-club\nversion: 1.0.0\ntitle: Our club\nextends: [rescued-cells]\n${text}`);
  const limits = await editor.completion(club('adjust:\n  limits:\n    |'));
  assert.match(words(limits.get('rest_match')), /stricter is lower/);
  const cautions = await editor.completion(club('adjust:\n  cautions:\n    |'));
  assert.ok(cautions.size > 50, `${cautions.size}`);
  const stage = await editor.completion(club('cautions:\n  - id: short-leg\n    stage: |'));
  assert.equal(words(stage.get('charging')), 'Charging');
  const source = await editor.completion(club('cautions:\n  - id: short-leg\n    basis:\n      - source: |'));
  assert.ok(source.size > 5, `${source.size}`);
  const formula = await editor.completion(club('cautions:\n  - id: short-leg\n    refuse_unless: |'));
  for (const name of ['cell.rest_voltage', 'build.run_time', 'limit.rest_match']) {
    assert.ok(formula.has(name), name);
  }
  assert.deepEqual(await said(club('adjust:\n  limits:\n    rest_mach: { to: 5 mV }\n')), {
    rest_mach: 'Property rest_mach is not allowed.',
  });
});

test('a proposal is offered the facts that rulesets declare', async () => {
  await writeFile(join(folder, 'club.yaml'), `format: 1
ruleset: our-club
version: 1.0.0
title: Our club
facts:
  cell.colour: { kind: choice, options: [blue, red], meaning: Colour of the club's sleeve }
`);
  await inForce('proposal', join(folder, 'club.yaml'));
  const of_cell = (text) => of('proposal-in-force', `format: 1\narrangement: 1S1P\ncells:\n  - id: K4\n    extra:\n      ${text}`);
  const extra = await editor.completion(of_cell('|'));
  assert.equal(words(extra.get('colour')), "Colour of the club's sleeve.");
  assert.deepEqual([...(await editor.completion(of_cell('colour: |'))).keys()], ['blue', 'red']);
});
