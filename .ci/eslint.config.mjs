// Names that do not exist are the type check's business; here is what it does not see.
export default [
  {
    files: ["assistant/screen/page/*.js", "tests/screen/*.mjs"],
    languageOptions: { ecmaVersion: 2023, sourceType: "module" },
    rules: {
      "eqeqeq": ["error", "always", { null: "ignore" }],
      "no-cond-assign": "error",
      "no-console": "error",
      "no-constant-condition": "error",
      "no-dupe-keys": "error",
      "no-eval": "error",
      "no-fallthrough": "error",
      "no-implicit-globals": "error",
      "no-self-compare": "error",
      "no-shadow": "error",
      "no-unreachable": "error",
      "no-unused-vars": "error",
      "no-use-before-define": ["error", { functions: false, classes: false, variables: false }],
      "no-var": "error",
      "prefer-const": "error",
    },
  },
];
