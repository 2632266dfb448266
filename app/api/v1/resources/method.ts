import { z } from 'zod';
import { methodPage } from '@/lib/registry/method/methodPage';
import { resource } from '../resource';
import { text } from '../shapes';

const number = (description: string) => z.number().meta({ description });

export const method = resource({
  path: '/method',
  id: 'getMethod',
  summary: 'The method in force: reference conditions, how far it reaches, what it assumes',
  pageOf: '/method',
  answer: z
    .object({
      methodVersion: text('In effect in the record'),
      priorsVersion: text('Version of the table of priors'),
      steps: z.array(z.string()),
      reference: z.object({
        airDensityKgM3: number('kg/m³'),
        airTemperatureC: number('°C'),
        auxiliaryPowerW: number('W'),
      }),
      reach: z.object({
        coldestC: number('°C'),
        hottestC: number('°C'),
        windAtCarHeightMps: number('m/s'),
        cruiseFromClassMps: number('m/s'),
      }),
      priors: z.array(
        z
          .object({
            label: text('What is assumed'),
            unit: text('Its unit'),
            value: number('In that unit'),
            u: number('Standard uncertainty, absolute'),
            relativeU: number('Standard uncertainty as a share of the value used'),
            source: text('Source'),
          })
          .meta({ id: 'Prior' }),
      ),
    })
    .meta({ id: 'Method' }),
  list: 'priors',
  read: async (registry) => {
    const found = await methodPage(registry);
    return { ...found, steps: [...found.steps], priors: [...found.priors] };
  },
});
