declare module 'virtual:samples' {
  const names: readonly string[];
  export default names;
}
