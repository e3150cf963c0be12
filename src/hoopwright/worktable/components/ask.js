// Asking the worktable's server, in plain data. A failed answer is an Error with `cure`, `status` and `findings`.

export class Trouble extends Error {
  /** @param {string} message @param {string} cure @param {number} status @param {object[]} findings */
  constructor(message, cure = "", status = 0, findings = []) {
    super(message);
    this.cure = cure;
    this.status = status;
    this.findings = findings;
  }
}

/** In which language the worktable is to answer: that of the page. */
export const spoken = () => ({ "accept-language": globalThis.document?.documentElement.lang || "en" });

/** @param {string} path @param {object | null} body @param {AbortSignal | undefined} signal */
export async function ask(path, body = null, signal = undefined) {
  let answer;
  try {
    answer = await fetch(path, {
      method: body === null ? "GET" : "POST",
      headers: body === null ? spoken() : { "content-type": "application/json", ...spoken() },
      body: body === null ? undefined : JSON.stringify(body),
      signal,
      cache: "no-store",
    });
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    throw new Trouble("offline", "", 0);
  }
  const text = await bodyOf(answer);
  if (!answer.ok) throw trouble(text, answer);
  return JSON.parse(text);
}

/** What was answered; an answer that breaks off on its way counts as none. @param {Response} answer */
async function bodyOf(answer) {
  try {
    return await answer.text();
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    throw new Trouble("offline", "", 0);
  }
}

/** Turn a refused answer into a Trouble. @param {string} text @param {Response} answer */
function trouble(text, answer) {
  try {
    const said = JSON.parse(text);
    return new Trouble(said.message ?? said.detail ?? text, said.cure ?? "", answer.status, said.findings ?? []);
  } catch {
    return new Trouble(text || answer.statusText, "", answer.status);
  }
}

/** The address of a project. @param {string} name */
export const of = (name) => `/api/projects/${encodeURIComponent(name)}`;
