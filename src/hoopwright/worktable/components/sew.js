export const Sew = { props: { store: Object }, template: `<section></section>` };
