// A session with a YAML language server over LSP, as an editor has one.

import { spawn } from 'node:child_process';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import rpc from 'vscode-jsonrpc/node.js';

const server = createRequire(import.meta.url).resolve('yaml-language-server/bin/yaml-language-server');

/** Where `|` stands in a text, and the text without it. */
export function at(marked) {
  const before = marked.slice(0, marked.indexOf('|')).split('\n');
  const position = { line: before.length - 1, character: before.at(-1).length };
  return { text: marked.replace('|', ''), position };
}

/** An editor with the server; `folder` is where its documents are. */
export class Editor {
  static async start(folder) {
    const editor = new Editor();
    editor.folder = folder;
    editor.opened = 0;
    editor.found = new Map();
    editor.server = spawn(process.execPath, [server, '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
    const { stdin, stdout } = editor.server;
    editor.link = rpc.createMessageConnection(
      new rpc.StreamMessageReader(stdout),
      new rpc.StreamMessageWriter(stdin),
    );
    editor.link.onNotification('textDocument/publishDiagnostics', (told) => editor.#told(told));
    editor.link.onRequest('client/registerCapability', () => null);
    editor.link.onRequest('workspace/configuration', ({ items }) => items.map(({ section }) => settings[section] ?? null));
    editor.link.listen();
    const root = pathToFileURL(folder).href;
    await editor.link.sendRequest('initialize', { processId: process.pid, rootUri: root, capabilities });
    await editor.link.sendNotification('initialized', {});
    return editor;
  }

  /** Opens a document and waits for what the server says of it. */
  async open(text) {
    const name = `${this.folder}/document-${(this.opened += 1)}.yaml`;
    const uri = pathToFileURL(name).href;
    const said = new Promise((resolve) => this.found.set(uri, resolve));
    await this.link.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId: 'yaml', version: 1, text },
    });
    return { uri, diagnostics: await said };
  }

  /** The messages on a document, each with the text that it is about. */
  async messages(text) {
    const { diagnostics } = await this.open(text);
    const lines = text.split('\n');
    return diagnostics.map(({ message, range }) => {
      const { line, character } = range.start;
      const end = range.end.line === line ? range.end.character : undefined;
      return { at: lines[line].slice(character, end), message };
    });
  }

  /** What is offered at `|`, by its label. */
  async completion(marked) {
    const { text, position } = at(marked);
    const { uri } = await this.open(text);
    const found = await this.link.sendRequest('textDocument/completion', { textDocument: { uri }, position });
    const items = Array.isArray(found) ? found : (found?.items ?? []);
    return new Map(items.map((item) => [item.label, item]));
  }

  /** What is shown at `|`. */
  async hover(marked) {
    const { text, position } = at(marked);
    const { uri } = await this.open(text);
    const found = await this.link.sendRequest('textDocument/hover', { textDocument: { uri }, position });
    return found?.contents?.value ?? '';
  }

  async stop() {
    await this.link.sendRequest('shutdown');
    await this.link.sendNotification('exit');
    this.link.dispose();
    this.server.kill();
  }

  #told({ uri, diagnostics }) {
    this.found.get(uri)?.(diagnostics);
  }
}

const capabilities = {
  textDocument: {
    completion: { completionItem: { documentationFormat: ['markdown', 'plaintext'], snippetSupport: true } },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    publishDiagnostics: {},
  },
  workspace: { configuration: true },
};

// Nothing is fetched: every schema is a file of this project.
const settings = {
  yaml: {
    yamlVersion: '1.2', validate: true, hover: true, completion: true, schemas: {},
    schemaStore: { enable: false, url: '' }, kubernetesCRDStore: { enable: false },
  },
};
