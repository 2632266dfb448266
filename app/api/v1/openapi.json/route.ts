import { publicAddress } from '@/app/runDossier/publicAddress';
import { preflightAnswer } from '../answer';
import { apiDocument } from '../document';

export function GET(): Response {
  return Response.json(apiDocument(publicAddress('/api/v1')), {
    headers: { 'Access-Control-Allow-Origin': '*', 'Cache-Control': 'public, max-age=300' },
  });
}

export function OPTIONS(): Response {
  return preflightAnswer();
}
