// The shelf: projects with their pictures, new ones, copies, the archive.
import { ask } from "/parts/ask.js";
import { t } from "/parts/texts.js";

export const Shelf = {
  data: () => ({ shelf: null }),
  async mounted() {
    this.shelf = await ask("/api/shelf");
  },
  methods: { t },
  template: `
  <section v-if="shelf" class="shelf">
    <ul class="cards">
      <li v-for="p in shelf.projects" :key="p.name" class="card">
        <a :href="'/project/' + encodeURIComponent(p.name) + '/draw'"><img :src="'/api/shelf/' + encodeURIComponent(p.name) + '/picture.png'" alt="" width="360"><span class="card-title">{{ p.title }}</span></a>
      </li>
    </ul>
  </section>`,
};
