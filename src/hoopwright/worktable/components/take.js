export const Take = { props: { store: Object }, template: `<section></section>` };
