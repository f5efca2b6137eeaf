// Starts the foreign test server on a free port and prints the port. The routes in front stand in
// for what it lacks: a whole getMe, polls that wait, and a handful of methods it does not know.
const net = require('net');
const express = require('express');
const TelegramServer = require('telegram-test-api');

const HOLD_MS = 20000;
const LOOK_EVERY_MS = 25;
const ok = (result) => ({ ok: true, result });

function shims(peer) {
  const app = express();
  const answer = (method, result) => app.all(`/bot:token/${method}`, (_req, res) => res.json(ok(result)));
  answer('getMe', {
    id: 7000000001, is_bot: true, first_name: 'Larder', username: 'larder_test_bot',
    can_join_groups: true, can_read_all_group_messages: true, supports_inline_queries: false,
  });
  answer('getWebhookInfo', { url: '', has_custom_certificate: false, pending_update_count: 0 });
  for (const method of ['answerCallbackQuery', 'setMessageReaction', 'setMyCommands']) answer(method, true);
  answer('getMyCommands', []);
  app.all('/bot:token/getUpdates', async (req, res) => {
    for (const end = Date.now() + HOLD_MS; Date.now() < end && !res.destroyed;) {
      const updates = peer.getUpdates(req.params.token);
      if (updates.length > 0) return res.json(ok(updates));
      await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
    }
    return res.json(ok([]));
  });
  app.use(peer.webServer);
  return app;
}

const probe = net.createServer().listen(0, '127.0.0.1', () => {
  const { port } = probe.address();
  probe.close(async () => {
    const peer = new TelegramServer({ host: '127.0.0.1', port });
    peer.webServer = shims(peer);
    await peer.start();
    console.log(port);
  });
});
