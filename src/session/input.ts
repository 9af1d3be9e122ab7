export type Input = { readonly kind: "placeholder" };
