export const Cloth = { props: { store: Object }, template: `<section></section>` };
