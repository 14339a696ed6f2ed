// vitest's `expect` and the little of its `vi` that the tests use, for a process that is no worker of vitest.

import {
  ASYMMETRIC_MATCHERS_OBJECT,
  addCustomEqualityTesters,
  chai,
  customMatchers,
  getState,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
  setState,
} from "@vitest/expect";

for (const plugin of [JestExtend, JestChaiExpect, JestAsymmetricMatchers]) chai.use(plugin);

export const expect = Object.assign((value, message) => chai.expect(value, message), chai.expect);
Object.assign(expect, globalThis[ASYMMETRIC_MATCHERS_OBJECT], { addEqualityTesters: addCustomEqualityTesters });
chai.expect.extend(expect, customMatchers);
expect.getState = () => getState(expect);
setState({ assertionCalls: 0, isExpectingAssertions: false, testPath: "" }, expect);

const stubbed = new Map();

export const vi = {
  stubGlobal(name, value) {
    if (!stubbed.has(name)) stubbed.set(name, Object.getOwnPropertyDescriptor(globalThis, name));
    Object.defineProperty(globalThis, name, { value, configurable: true, writable: true });
  },
  unstubAllGlobals() {
    for (const [name, original] of stubbed) Object.defineProperty(globalThis, name, original);
    stubbed.clear();
  },
};
