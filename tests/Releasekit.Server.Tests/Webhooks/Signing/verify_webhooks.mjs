// Reads [{secret, body (base64), headers}] and writes for each whether the reference library accepts it.
import { Webhook } from "standardwebhooks";
import { readFileSync } from "node:fs";

const accepts = ({ secret, body, headers }) => {
  try {
    new Webhook(secret).verify(Buffer.from(body, "base64"), headers);
    return true;
  } catch (error) {
    if (error.name === "WebhookVerificationError" || error.constructor.name === "WebhookVerificationError") {
      return false;
    }
    throw error;
  }
};

process.stdout.write(JSON.stringify(JSON.parse(readFileSync(0, "utf8")).map(accepts)));
