import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { defineConfig } from "vitest/config";

/** A digest of everything the page is made from; a test holds the built page against it. */
function madeFrom(): string {
  const listed = (folder: string): string[] =>
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => `${entry.parentPath}/${entry.name}`);
  const files = ["index.html", "vite.config.ts", "package-lock.json", ...listed("src"), ...listed("public")];
  const digest = createHash("sha256");
  for (const file of files.sort()) digest.update(`${file}\n`).update(readFileSync(file));
  return digest.digest("hex");
}

export default defineConfig({
  base: "/",
  plugins: [
    {
      name: "made-from",
      generateBundle() {
        this.emitFile({ type: "asset", fileName: "made-from.txt", source: `${madeFrom()}\n` });
      },
    },
  ],
  build: {
    outDir: "../src/strutwright/web/static",
    emptyOutDir: true,
    target: "es2022",
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 900,
    rollupOptions: {
      output: {
        entryFileNames: "assets/[name]-[hash].js",
        chunkFileNames: "assets/[name]-[hash].js",
        assetFileNames: "assets/[name]-[hash][extname]",
      },
    },
  },
  test: { environment: "happy-dom", include: ["test/**/*.test.ts"] },
});
