import { open, start } from './browser.js';
const b = await start({solid:true});
const out='/tmp/book-shots'; import fs from 'node:fs'; fs.mkdirSync(out,{recursive:true});
for (const [name, w, h] of [['phone',390,844],['tablet',820,1180],['desk',1440,900]]) {
  for (const cs of (process.argv[2]||'light').split(',')) {
  const p = await open(b,{viewport:{width:w,height:h},hasTouch:name!=='desk',colorScheme:cs});
  await p.screenshot({path:`${out}/${name}-${cs}-top.png`});
  const m = await p.locator('details.marking').first();
  await m.evaluate(d=>{d.open=true;d.scrollIntoView()}); await p.waitForTimeout(200);
  await p.screenshot({path:`${out}/${name}-${cs}-card.png`});
  await p.evaluate(()=>document.querySelector('#cut').scrollIntoView()); await p.waitForTimeout(100);
  await p.screenshot({path:`${out}/${name}-${cs}-cut.png`});
  await p.evaluate(()=>document.querySelector('#file').scrollIntoView()); await p.waitForTimeout(100);
  await p.screenshot({path:`${out}/${name}-${cs}-file.png`});
  await p.evaluate(()=>scrollTo(0,0));
  await p.click('#place-start'); await p.waitForTimeout(200);
  await p.screenshot({path:`${out}/${name}-${cs}-place.png`});
  await p.click('.pl-tape >> nth=0'); await p.click('[data-key="1"]'); await p.click('[data-key="8"]'); await p.click('[data-key="p6"]'); 
  await p.screenshot({path:`${out}/${name}-${cs}-keys.png`});
  console.log(name, p.complaints);
  await p.context().close();
  }
}
await b.close();
