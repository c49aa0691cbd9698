// What cannot be meant is not stored: the text stays in the field, one sentence stands beside it.

import assert from 'node:assert/strict';
import { scenario } from '../lib/scenario.mjs';

async function begun(hands) {
  await hands.tap('New spray test');
  await hands.tap('Spray');
  await hands.openEntries();
}


const troubleOf = (hands, label) => hands.field(label).evaluate((field) => {
  const ids = field.getAttribute('aria-describedby').split(' ');
  return ids.map((id) => document.getElementById(id)).find((it) => it.className === 'trouble').innerText;
});

scenario('keeps what it cannot read on screen and stores nothing', async (hands) => {
  await begun(hands);
  for (const [typed, sentence] of [['abc', /not a number/], ['1.234,5', /one decimal point or one comma/], ['12..5', /one decimal point/], ['-3', /must lie between/]]) {
    await hands.fill('A1 bare', typed);
    assert.match(await troubleOf(hands, 'A1 bare'), sentence);
    assert.equal(await hands.field('A1 bare').inputValue(), typed);
    assert.equal(await hands.field('A1 bare').getAttribute('aria-invalid'), 'true');
  }
  await hands.shot('refused');
  await hands.reload();
  await hands.see(/^Not stored: “-3”, typed for A1 bare\. /);
  await hands.openEntries();
  assert.equal(await hands.field('A1 bare').inputValue(), '-3');
  for (const typed of ['412.5', '412,5']) {
    await hands.fill('A1 bare', typed);
    assert.equal(await troubleOf(hands, 'A1 bare'), '');
    await hands.reload();
    await hands.openEntries();
    assert.equal(await hands.field('A1 bare').inputValue(), '412.5');
  }
});

scenario('says what is wrong with weights, teeth and times that contradict each other', async (hands) => {
  await hands.page.clock.setFixedTime(new Date('2026-03-02T10:00:00+01:00'));
  await begun(hands);
  await hands.fill('A1 bare', '412.5');
  await hands.fill('A1 wet', '400');
  assert.match(await troubleOf(hands, 'A1 wet'), /below the bare weight, 412\.5 g/);
  await hands.fill('A1 wet', '440');
  assert.equal(await troubleOf(hands, 'A1 wet'), '');
  await hands.fill('A1 bare', '450');
  assert.match(await troubleOf(hands, 'A1 bare'), /not below the wet weight, 440 g/);

  const card = hands.part('A1');
  await card.getByText('Type a dab instead').tap();
  await hands.fill('Last wetted tooth', '200', card);
  await hands.fill('First dry tooth', '175', card);
  await hands.tap('Record this dab', card);
  await hands.see('The first dry tooth must be longer than the last wetted one.', card);
  assert.equal(await card.getByRole('listitem').count(), 0);

  // A round dated before the panel was weighed wet.
  await hands.tap('Weigh');
  await hands.tap('Begin a round');
  await hands.page.getByText('Time, place and scale of this round').tap();
  await hands.field('Weighed at').fill('2026-03-01T08:00');
  await hands.field('Weighed at').blur();
  await hands.weigh('A1', '438');
  assert.match(await troubleOf(hands, 'A1'), /before the panel was weighed wet \(Mon 2 Mar 10:00\)/);
});
