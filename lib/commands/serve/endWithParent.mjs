// Loaded into the web process before Next: when the process that started it is gone, its channel closes.
process.once('disconnect', () => process.exit(0));
