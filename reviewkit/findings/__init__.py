"""Rules, one a file: a class as heard -> judgements with the words they rest on."""
