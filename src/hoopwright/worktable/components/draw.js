export const Draw = { props: { store: Object }, template: `<section></section>` };
