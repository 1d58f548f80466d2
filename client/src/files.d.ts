// Files that are bundled beside the modules; importing one gives its address.

declare module "*.wasm" {
  const address: string;
  export default address;
}
