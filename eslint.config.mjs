import { createRequire } from "node:module";

// npx keeps ESLint outside this folder: what it needs is found beside it.
const beside = createRequire(process.argv[1]);
const globals = beside("globals");

const ROOMS = "site_src/tankfoot";
const PURE = { atob: "readonly", btoa: "readonly", crypto: "readonly", TextDecoder: "readonly", TextEncoder: "readonly" };

export default [
  beside("@eslint/js").configs.recommended,
  { rules: { "no-unused-vars": ["error", { ignoreRestSiblings: true }] } },
  // What the rooms without a screen take from the browser, and no more.
  { files: [`${ROOMS}/**`], languageOptions: { globals: PURE } },
  { files: [`${ROOMS}/{browser,wording}/**`, `${ROOMS}/site/assets/**`], languageOptions: { globals: globals.browser } },
  { files: [`${ROOMS}/site/templates/sw.js`], languageOptions: { globals: globals.serviceworker } },
];
