export type Session = { readonly placeholder: true };
